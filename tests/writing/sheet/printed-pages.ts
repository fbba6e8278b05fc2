/// <reference lib="dom" />
/**
 * A page of Chromium's printed and looked at by poppler: how full its pages are, and what stands at their ends. mm of paper; the sheet's
 * margins are 15 mm at the head, with the title, and 16 mm at the foot, with the page's number.
 */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { program } from '../../machine/outside-programs.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';

export const PAPERS = {
  A4: { width: 210, height: 297 },
  Letter: { width: 215.9, height: 279.4 },
} as const;

const HEAD = 14;
const FOOT = 16;
const DOTS_PER_INCH = 30;
const MM_PER_INCH = 25.4;
/** Of 255: lighter is paper. */
const PAPER_WHITE = 200;
/** The least share of a page's height that is used, but for the last page: what cannot be cut is at most 0.4 of Letter's height. */
const FULL = 0.6;
/** Of the last page: more than the foot of the sheet alone. */
const LAST = 0.1;

/** Pages that are less than so full, without their title or number, or with a heading as their last line. */
export async function pageFaults(page: Page, paper: keyof typeof PAPERS): Promise<string[]> {
  const folder = temporaryFolder();
  const file = join(folder, 'sheet.pdf');
  writeFileSync(file, await page.pdf({ format: paper, printBackground: true }));
  execFileSync(program('pdftoppm')!, ['-r', String(DOTS_PER_INCH), '-gray', file, join(folder, 'page')]);
  const pictures = readdirSync(folder).filter((name) => name.endsWith('.pgm'));
  const shares = pictures.sort().map((name) => usedShare(readFileSync(join(folder, name))));
  const text = execFileSync(program('pdftotext')!, ['-layout', file, '-'], { encoding: 'utf8' });
  const pages = text.split('\f').slice(0, -1);
  const headings = await page.evaluate(() =>
    [...document.querySelectorAll('h1, h2, h3')].map((heading) => heading.textContent!.trim()),
  );
  const [title] = headings;
  if (pages.length !== shares.length) return [`${pages.length} pages of text, ${shares.length} of pictures`];
  return pages.flatMap((words, k) => {
    const lines = words
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '');
    const name = `page ${k + 1} of ${pages.length} on ${paper}`;
    const share = shares[k]!;
    return [
      ...(share < (k < pages.length - 1 ? FULL : LAST) ? [`${name} is used to ${share.toFixed(2)}`] : []),
      ...(lines[0]!.startsWith(title!.slice(0, 12)) ? [] : [`${name} begins with ${lines[0]}`]),
      ...(lines.at(-1) === `page ${k + 1} of ${pages.length}` ? [] : [`${name} ends with ${lines.at(-1)}`]),
      ...(headings.includes(lines.at(-2)!) ? [`${name} has the heading ${lines.at(-2)} at its end`] : []),
    ];
  });
}

/** Of the height between the margins, from the top to the lowest ink; a picture as PGM (P5). */
function usedShare(picture: Buffer): number {
  const [head] = /^P5\s+\d+\s+\d+\s+\d+\s/.exec(picture.subarray(0, 40).toString('latin1'))!;
  const [width, height] = head.split(/\s+/).slice(1, 3).map(Number) as [number, number];
  const dots = (mm: number): number => Math.round((mm * DOTS_PER_INCH) / MM_PER_INCH);
  const [top, bottom] = [dots(HEAD), height - dots(FOOT)];
  for (let row = bottom - 1; row >= top; row--) {
    const from = head.length + row * width;
    if (picture.subarray(from, from + width).some((grey) => grey < PAPER_WHITE))
      return (row + 1 - top) / (bottom - top);
  }
  return 0;
}
