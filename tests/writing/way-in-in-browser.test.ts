/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/**
 * The moving pictures of the way in, in a real browser: by keyboard and button, by steps for who asks for reduced motion, as a strip of stills
 * without scripts and on paper. Chromium on PATH, or where DATUMLIGHT_CHROMIUM says.
 */
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { fringesPage } from '../../src/writing/picture/fringes-page.ts';
import { patchFilms } from '../../src/writing/picture/way-in.ts';
import '../machine/patience.ts';
import { lacks, program } from '../machine/outside-programs.ts';
import { designOf, exampleText } from './sheet/made-sheets.ts';

const chromiumPath = process.env.DATUMLIGHT_CHROMIUM ?? program('chromium');
const design = designOf(exampleText('diverging-balls'));
const options = { size: 16, orientation: PLAIN_ORIENTATION, patches: ['top'] };
const films = patchFilms(design, options).slice(0, 1);
const still = { width: 1, height: 1, grey: Uint8Array.of(0) };
const about = { state: 'aligned', displacement: [0, 0, 0], fringes: [], fringesAtNull: 0 } as const;
const picture = { file: 'a.png', patch: 'top', ...about, picture: still } as const;
const html = fringesPage(design, [picture], new Map([['a.png', new Uint8Array()]]), options, '0.0.0', films);
const LAST = films[0]!.frames.length - 1;

const shown = (page: Page): Promise<number[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.film li')].flatMap((frame, k) =>
      getComputedStyle(frame).display === 'none' ? [] : [k],
    ),
  );
const isPlayerSeen = (page: Page): Promise<boolean> => page.locator('.player').isVisible();
const STRIP = Array.from({ length: LAST / 2 + 1 }, (_, k) => 2 * k);

describe.skipIf(lacks({ chromium: chromiumPath }))('the way in, in Chromium', () => {
  let browser: Browser;
  beforeAll(async () => {
    const args = ['--no-sandbox', '--disable-gpu'];
    browser = await chromium.launch({ executablePath: chromiumPath!, args });
  });
  afterAll(() => browser?.close());

  async function opened(context: BrowserContextOptions = {}): Promise<{ page: Page; faults: string[] }> {
    const page = await (await browser.newContext(context)).newPage();
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(String(error)));
    page.on('request', (request) => request.url().startsWith('data:') || faults.push(request.url()));
    await page.setContent(html, { waitUntil: 'load' });
    return { page, faults };
  }

  test('the keyboard moves the slider: one frame at a time, from the start to the bench in place', async () => {
    const { page, faults } = await opened();
    expect(await shown(page)).toEqual([0]);
    const slider = page.getByRole('slider');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Play');
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowRight');
    expect(await shown(page)).toEqual([1]);
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/µm off, [\d.]+ fringes$/);
    expect(await slider.getAttribute('aria-label')).toContain('toward 9 o’clock');
    await page.keyboard.press('End');
    expect(await shown(page)).toEqual([LAST]);
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/^aligned/);
    expect(faults).toEqual([]);
  });

  test('the button plays to the end and stops there', async () => {
    const { page } = await opened();
    await page.clock.install();
    await page.getByRole('button').press('Enter');
    expect(await page.getByRole('button').textContent()).toBe('Pause');
    await page.clock.runFor(20_000);
    expect(await shown(page)).toEqual([LAST]);
    expect(await page.getByRole('button').textContent()).toBe('Play');
  });

  test('with reduced motion asked for, the button goes one step and nothing moves by itself', async () => {
    const { page } = await opened({ reducedMotion: 'reduce' });
    await page.clock.install();
    expect(await page.getByRole('button').textContent()).toBe('Next step');
    await page.getByRole('button').press('Enter');
    await page.clock.runFor(20_000);
    expect(await shown(page)).toEqual([1]);
  });

  test('on paper, and without scripts, every second frame stands beside the others', async () => {
    const { page } = await opened();
    await page.emulateMedia({ media: 'print' });
    expect({ shown: await shown(page), player: await isPlayerSeen(page) }).toEqual({
      shown: STRIP,
      player: false,
    });
    const without = await opened({ javaScriptEnabled: false });
    expect(await isPlayerSeen(without.page)).toBe(false);
    for (const k of STRIP) expect(await without.page.locator('.film li').nth(k).isVisible()).toBe(true);
    expect(await without.page.locator('.film li').nth(1).isVisible()).toBe(false);
  });
});
