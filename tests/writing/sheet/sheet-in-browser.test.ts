/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/**
 * The sheet in a real browser: nothing wider than the paper, no text over another, and in print full pages with no row of a table cut.
 * Chromium on PATH, or where DATUMLIGHT_CHROMIUM says; poppler's pdftotext and pdfinfo.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import '../../machine/patience.ts';
import { lacks, program } from '../../machine/outside-programs.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';
import { SHEET_NAMES, sheet } from './made-sheets.ts';
import { PAPERS, pageFaults } from './printed-pages.ts';

const chromiumPath = process.env.DATUMLIGHT_CHROMIUM ?? program('chromium');
const [pdftotext, pdfinfo] = [program('pdftotext'), program('pdfinfo')];

/** CSS pixels of what the sheet's margins of 13 mm leave of the paper's width. */
const PIXELS_PER_MM = 96 / 25.4;
const printedWidth = (paper: keyof typeof PAPERS): number =>
  Math.floor((PAPERS[paper].width - 26) * PIXELS_PER_MM);
const POINTS_PER_MM = 72 / 25.4;

describe.skipIf(lacks({ chromium: chromiumPath, pdftotext, pdfinfo }))('the sheet in Chromium', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: chromiumPath!,
      args: ['--no-sandbox', '--disable-gpu'],
    });
  });
  afterAll(() => browser?.close());

  test.each(SHEET_NAMES)('%s', async (name) => {
    const html = sheet(name);
    const fetched: string[] = [];
    const page = await browser.newPage();
    page.on('request', (request) => {
      if (!request.url().startsWith('data:')) fetched.push(request.url());
    });
    await page.setContent(html, { waitUntil: 'load' });
    await page.emulateMedia({ media: 'print' });
    for (const paper of ['A4', 'Letter'] as const) {
      await page.setViewportSize({ width: printedWidth(paper), height: 1000 });
      expect(await tooWide(page)).toEqual([]);
      expect(await overlapping(page)).toEqual([]);
    }
    await page.emulateMedia({ media: 'screen' });
    for (const width of [360, 1280]) {
      await page.setViewportSize({ width, height: 900 });
      expect(await overlapping(page)).toEqual([]);
    }
    await page.emulateMedia({ media: 'print' });
    for (const paper of ['A4', 'Letter'] as const) expect(await pageFaults(page, paper)).toEqual([]);
    await markRows(page);
    for (const paper of ['A4', 'Letter'] as const) expect(await printedFaults(page, paper)).toEqual([]);
    expect(fetched).toEqual([]);
    await page.close();
  });
});

/** Elements that reach beyond the page's width, but for shapes inside a drawing, which its frame clips. */
const tooWide = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const width = document.documentElement.clientWidth;
    const wide = [...document.querySelectorAll('body *:not(svg *)')].filter((element) => {
      const { left, right } = element.getBoundingClientRect();
      return right > width + 0.5 || left < -0.5;
    });
    const scrolls = document.documentElement.scrollWidth > width ? ['the page scrolls sideways'] : [];
    return [...scrolls, ...wide.map((element) => `${element.tagName}: ${element.textContent?.slice(0, 40)}`)];
  });

/** Pairs of texts whose lines lie over each other; those of layout and bench have tests of their own. */
const overlapping = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const boxes: { readonly text: string; readonly node: Node; readonly rect: DOMRect }[] = [];
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      if (
        node.textContent?.trim() === '' ||
        node.parentElement?.closest('svg[aria-labelledby], figure.bench, style')
      )
        continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const rect of range.getClientRects()) boxes.push({ text: node.textContent!.trim(), node, rect });
    }
    const faults: string[] = [];
    boxes.sort((a, b) => a.rect.top - b.rect.top);
    for (const [k, a] of boxes.entries()) {
      for (const b of boxes.slice(k + 1)) {
        if (b.rect.top > a.rect.bottom - 2) break;
        const across = Math.min(a.rect.right, b.rect.right) - Math.max(a.rect.left, b.rect.left);
        if (a.node !== b.node && across > 1) faults.push(`${a.text.slice(0, 30)} | ${b.text.slice(0, 30)}`);
      }
    }
    return faults;
  });

/** Marks the first and the last line of every row, list entry, figure and patch, so that a printed page can be asked for both. */
const markRows = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const mark = (element: Element, text: string, first: boolean): void => {
      const span = document.createElement('span');
      span.textContent = first ? `${text} ` : ` ${text}`;
      if (first) element.prepend(span);
      else element.append(span);
    };
    document.querySelectorAll('tr').forEach((row, k) => {
      for (const cell of row.children) {
        mark(cell, `Q${k}S`, true);
        mark(cell, `Q${k}E`, false);
      }
    });
    document.querySelectorAll('section.patch:not(.tall)').forEach((section, k) => {
      mark(section.querySelector('h3')!, `P${k}S`, true);
      mark([...section.querySelectorAll('p, td')].at(-1)!, `P${k}E`, false);
    });
  });

async function printedFaults(page: Page, paper: keyof typeof PAPERS): Promise<string[]> {
  const folder = temporaryFolder();
  const file = join(folder, 'sheet.pdf');
  writeFileSync(file, await page.pdf({ format: paper, printBackground: true }));
  const info = execFileSync(pdfinfo!, [file], { encoding: 'utf8' });
  const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(info)!.map(Number);
  const faults: string[] = [];
  const { width: asked, height: tall } = PAPERS[paper];
  if (Math.abs(width! - asked * POINTS_PER_MM) > 1.5 || Math.abs(height! - tall * POINTS_PER_MM) > 1.5)
    faults.push(`pages of ${width} x ${height} points are not ${paper}`);
  const text = execFileSync(pdftotext!, ['-layout', file, '-'], { encoding: 'utf8' });
  const pages = text.split('\f').slice(0, -1);
  pages.forEach((words, k) => {
    if (words.trim() === '') faults.push(`page ${k + 1} of ${pages.length} is blank`);
  });
  const pageOf = new Map<string, Set<number>>();
  pages.forEach((words, k) => {
    for (const [mark] of words.matchAll(/\b[QP]\d+[SE]\b/g)) {
      pageOf.set(mark, (pageOf.get(mark) ?? new Set()).add(k));
    }
  });
  for (const [start, on] of pageOf) {
    if (!start.endsWith('S')) continue;
    const end = `${start.slice(0, -1)}E`;
    const all = new Set([...on, ...(pageOf.get(end) ?? [])]);
    // The heads of a table are repeated on each of its pages, as they should be.
    if (all.size > 1 && !(on.size === all.size && on.size === pageOf.get(end)?.size))
      faults.push(`${start} to ${end} is cut over pages ${[...all].map((k) => k + 1).join(', ')}`);
  }
  const heads = await page.evaluate(() =>
    [...document.querySelectorAll('table:has(thead)')].map((table) => [
      table.querySelector('thead td, thead th')!.textContent!.trim().split(' ')[0]!,
      [...table.querySelectorAll('tbody tr')].map((row) => row.textContent!.trim().split(' ')[0]!),
    ]),
  );
  for (const [head, rows] of heads as [string, string[]][]) {
    const on = new Set(rows.flatMap((row) => [...(pageOf.get(row) ?? [])]));
    for (const k of pageOf.get(head) ?? [])
      if (!on.has(k)) faults.push(`${head}, the head of a table, stands on page ${k + 1} without a row`);
  }
  if (![...pageOf.keys()].some((mark) => mark.startsWith('Q')))
    faults.push('no mark was found: the text of the pages cannot be read');
  return faults;
}
