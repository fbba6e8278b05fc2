/// <reference lib="dom" />
/**
 * The bench page against what could spoil it: hostile titles and ids, faults of accessibility, a page that is too large or wider than a
 * tablet; in each of its themes.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { designScenario } from '../../src/design/design-scenario.ts';
import { benchTemplate } from '../../src/disk/bench-template.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { benchPage } from '../../src/writing/bench-page/bench-page.ts';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { designOf, HOSTILE } from '../writing/sheet/made-sheets.ts';
import { CHROMIUM, HEAD, openBench, startChromium } from './page-in-browser.ts';

const textOf = (name: string): string => readFileSync(`examples/${name}.yaml`, 'utf8');

/** Every text that a scenario gives, hostile: more than its reader lets through. */
function hostileDesign(): Design {
  const { scenario } = designOf(textOf('steer-mirror-on-stage'));
  const evil = (id: string): string =>
    `${HOSTILE}</template></script><!--${id}--><script>alert(1)</script>\u2028${id}`;
  const result = designScenario({
    ...scenario,
    title: evil('title'),
    references: scenario.references.map((one) => ({ ...one, id: evil(one.id) })),
    patches: scenario.patches.map((one) => ({ ...one, id: evil(one.id), reference: evil(one.reference) })),
    stage: scenario.stage.map((one) => ({ ...one, id: evil(one.id) })),
    seats: scenario.seats.map((one) => ({ ...one, id: evil(one.id) })),
  });
  if (!('design' in result)) throw new Error('the hostile scenario has no design');
  return result.design;
}

const DESIGNS: Readonly<Record<string, () => Design>> = {
  'full-bench': () => designOf(textOf('full-bench')),
  'steer-mirror-on-stage': () => designOf(textOf('steer-mirror-on-stage')),
  'hostile texts': hostileDesign,
};

const SIZES = { laptop: { width: 1280, height: 800 }, tablet: { width: 768, height: 1024 } };
const THEMES = ['light', 'dark', 'red'] as const;

/** Bytes. */
const LARGEST_PAGE = 600_000;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

test.each(Object.keys(DESIGNS))('%s: the page is small, ASCII, and names nothing to be fetched', (name) => {
  const html = benchPage(DESIGNS[name]!(), HEAD, benchTemplate(), PLAIN_ORIENTATION);
  expect(html.length).toBeLessThan(LARGEST_PAGE);
  expect(html).toMatch(/^[ -~\n\t]*$/);
  const elements = html.replace(/<script>[\s\S]*?<\/script>/, '').match(/<(?!!)[^>]*>/g)!;
  expect(elements.filter((one) => /\b(src|href|on\w+)\s*=/.test(one))).toEqual([]);
  // Two of data, one of the program: the titles' and ids' own are text.
  expect(html.match(/<script/g)).toHaveLength(3);
  expect(html.match(/<\/script/g)).toHaveLength(3);
});

describe.skipIf(lacks({ chromium: CHROMIUM }))('in Chromium', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startChromium();
  });
  afterAll(() => browser?.close());

  test.each(Object.keys(DESIGNS))(
    '%s: axe finds no fault, nothing is wider than the screen, nothing is complained of',
    async (name) => {
      const design = DESIGNS[name]!();
      const { page, complaints } = await openBench(browser, design, { viewport: SIZES.laptop });
      page.on('dialog', () => complaints.push('a dialog'));
      await fillFirst(page);
      for (const details of await page.locator('details').all())
        await details.evaluate((each) => each.toggleAttribute('open', true));
      await page.evaluate(axe);
      for (const [size, viewport] of Object.entries(SIZES)) {
        await page.setViewportSize(viewport);
        expect(await tooWide(page), size).toEqual([]);
      }
      for (const theme of THEMES) {
        await page.locator(`input[value=${theme}]`).check();
        const faults = await page.evaluate(async () => {
          const { axe: checker } = window as unknown as { axe: { run(): Promise<AxeResults> } };
          const { violations } = await checker.run();
          return violations.flatMap(({ id, nodes }) =>
            nodes.slice(0, 3).map((node) => `${id}: ${node.html.slice(0, 120)}`),
          );
        });
        expect(faults, theme).toEqual([]);
      }
      expect(complaints).toEqual([]);
      await page.context().close();
    },
  );

  test('hostile titles and ids stand on the page as text, with its marks made visible', async () => {
    const { page, complaints } = await openBench(browser, hostileDesign());
    await fillFirst(page);
    expect(await page.locator('h1').textContent()).toContain('<script>alert("x")</script>');
    expect(await page.locator('h1').textContent()).not.toContain('\u202e');
    expect(await page.locator('img, iframe, object, #page script').count()).toBe(0);
    expect(await page.locator('fieldset.row legend').first().textContent()).toContain('</template></script>');
    const moves = await page.locator('#moves').textContent();
    expect(moves).toContain('part');
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

async function fillFirst(page: Page): Promise<void> {
  const first = page.locator('fieldset.row label.first input');
  for (let k = 0; k < (await first.count()); k++) await first.nth(k).fill('0.5');
}

/** Elements that reach beyond the screen, but for what scrolls by itself. */
const tooWide = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const width = document.documentElement.clientWidth;
    return [...document.querySelectorAll('body *:not(svg *, pre *)')]
      .filter((element) => element.getBoundingClientRect().right > width + 0.5)
      .map((element) => `${element.tagName} ${element.className}: ${element.textContent?.slice(0, 40)}`);
  });
