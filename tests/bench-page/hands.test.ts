/// <reference lib="dom" />
/** The bench page by keyboard alone, each control with a mark where the focus is; and by touch, which tells the camera's orientation. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { balls, designOf } from '../cli/support/frames.ts';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { CHROMIUM, openBench, startChromium } from './page-in-browser.ts';

const design = designOf(balls());
/** More than there are controls. */
const MOST_STEPS = 400;

describe.skipIf(lacks({ chromium: CHROMIUM }))('the bench page', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startChromium();
  });
  afterAll(() => browser?.close());

  test('the tab key reaches every control, and where the focus is can be seen in each', async () => {
    const { page, complaints } = await openBench(browser, design);
    const count = await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
      const controls = [
        ...document.querySelectorAll<HTMLElement | SVGElement>(
          'a[href], button:not([disabled]), input, select, summary, [role=button], video[controls]',
        ),
      ].filter((one) => !one.matches('.hidden-file') && one.checkVisibility({ visibilityProperty: true }));
      // A group of radio buttons is one stop; its others are reached by the arrows.
      const stops = controls.filter((one) => !one.matches('input[type=radio]:not(:checked)'));
      for (const [k, one] of stops.entries()) one.dataset.stop = String(k);
      return stops.length;
    });
    expect(count).toBeGreaterThan(50);
    const left = new Set(Array.from({ length: count }, (_, k) => String(k)));
    const unmarked: string[] = [];
    for (let k = 0; k < MOST_STEPS && left.size > 0; k++) {
      await page.keyboard.press('Tab');
      const { stop, isMarked, name } = await page.evaluate(() => {
        const one = document.activeElement as HTMLElement;
        const { outlineStyle, outlineWidth } = getComputedStyle(one);
        const isOutlined = outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
        const { width, height } = one.getBoundingClientRect();
        return {
          stop: one.dataset?.stop,
          isMarked: isOutlined && width > 0 && height > 0,
          name: one.outerHTML.slice(0, 100),
        };
      });
      if (stop !== undefined) left.delete(stop);
      if (!isMarked && !name.startsWith('<body')) unmarked.push(name);
    }
    const missed = await page.evaluate(
      (stops) =>
        stops.map((stop) => document.querySelector(`[data-stop="${stop}"]`)!.outerHTML.slice(0, 100)),
      [...left],
    );
    expect(missed).toEqual([]);
    expect(unmarked).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('a focused control is never under the header', async () => {
    const { page } = await openBench(browser, design, { viewport: { width: 768, height: 500 } });
    const covered: string[] = [];
    for (let k = 0; k < 60; k++) {
      await page.keyboard.press(k < 40 ? 'Tab' : 'Shift+Tab');
      const over = await page.evaluate(() => {
        const one = document.activeElement!;
        const { left, top, width, height } = one.getBoundingClientRect();
        const at = document.elementFromPoint(left + width / 2, top + height / 2);
        return at?.closest('header') && !one.closest('header') ? one.outerHTML.slice(0, 100) : undefined;
      });
      if (over !== undefined) covered.push(over);
    }
    expect(covered).toEqual([]);
    await page.context().close();
  });

  test('by touch: three balls seen mirrored are told by two patches, the top one and the left one at the right', async () => {
    const { page, complaints } = await openBench(browser, design, {
      hasTouch: true,
      viewport: { width: 768, height: 1024 },
    });
    const tapped = (k: number) =>
      page.getByRole('button', { name: `patch ${k + 1}, ${design.patches[k]!.id}`, exact: true }).tap();
    const covered = page.getByLabel('I cover with a card patch');
    const at = (id: string): number => design.patches.findIndex((patch) => patch.id === id);
    await page.getByRole('button', { name: 'Find it by covering two patches' }).tap();
    await covered.selectOption('top');
    await tapped(at('top'));
    expect(await page.locator('.asking [role=status]').textContent()).toMatch(/^2 orientations show that/);
    await covered.selectOption('left');
    // Of the drawing as it stands: where a mirror, left for right, has the left patch.
    await tapped(at('right'));
    expect(await page.locator('.asking [role=status]').textContent()).toMatch(/^Found: .*mirrored/);
    expect(await page.getByLabel('Mirrored left to right').inputValue()).toBe('yes');
    expect(await page.getByLabel('Turned clockwise').inputValue()).toBe('0');
    expect(await page.evaluate(() => window.datumlight.readings())).toContain('mirrored: true');
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
