/// <reference lib="dom" />
/** How long the bench page takes to open from a file, and to draw nine pictures anew as a knob moves. */
import { readFileSync } from 'node:fs';
import { bench, describe } from 'vitest';
import { designOf } from '../writing/sheet/made-sheets.ts';
import { openBench, startChromium } from './page-in-browser.ts';

const browser = await startChromium();
const design = designOf(readFileSync('examples/steer-mirror-on-stage.yaml', 'utf8'));
const { page } = await openBench(browser, design, { viewport: { width: 1280, height: 800 } });
await page.locator('#pictures').evaluate((section) => section.scrollIntoView());

const FEW = { iterations: 5, time: 0, warmupIterations: 1, warmupTime: 0 };

describe('bench page in Chromium', () => {
  bench('opened', () => page.reload().then(() => undefined), FEW);
  bench(
    'a knob moved, nine pictures drawn',
    async () => {
      await page
        .locator('.knob input')
        .first()
        .evaluate((knob) => {
          const slider = knob as HTMLInputElement;
          slider.value = String(-Number(slider.value) || 0.05);
          slider.dispatchEvent(new Event('input'));
          return new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)));
        });
    },
    FEW,
  );
});
