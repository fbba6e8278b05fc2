/**
 * The page computes what the command computes, to 1e-9 and in fact to the last bit: random sets of readings of six designs. 1,000 of them in
 * parity.long.ts.
 */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { CHROMIUM, startChromium } from './page-in-browser.ts';
import { comparedAnswers } from './same-answers.ts';

const SETS = {
  'steer-mirror-on-stage': 12,
  'diverging-balls': 20,
  'converging-retroreflectors': 6,
  'full-bench': 4,
  'infrared-collimated': 4,
  'off-axis-asphere': 4,
} as const;

/** Of a set: moves, uncertainties, what is left of each reading. */
const LEAST_FIGURES = 20;

describe.skipIf(lacks({ chromium: CHROMIUM }))('the page in Chromium', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startChromium();
  });
  afterAll(() => browser?.close());

  test.each(Object.entries(SETS))(
    '%s: the answers to %d sets of readings are those of steer',
    async (name, count) => {
      const { differing, figures } = await comparedAnswers(browser, name, count);
      expect(differing.slice(0, 20)).toEqual([]);
      expect(figures).toBeGreaterThan(LEAST_FIGURES * count);
    },
  );
});
