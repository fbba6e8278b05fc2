/** As parity.test.ts, with 1,000 sets of readings: the page computes what the command computes, to 1e-9. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { CHROMIUM, startChromium } from './page-in-browser.ts';
import { comparedAnswers } from './same-answers.ts';

const SETS = {
  'steer-mirror-on-stage': 400,
  'diverging-balls': 250,
  'converging-retroreflectors': 150,
  'full-bench': 50,
  'infrared-collimated': 100,
  'off-axis-asphere': 50,
} as const;

describe.skipIf(lacks({ chromium: CHROMIUM }))('the page in Chromium', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startChromium();
  });
  afterAll(() => browser?.close());

  test('there are 1,000 sets', () => {
    expect(Object.values(SETS).reduce((sum, count) => sum + count, 0)).toBe(1000);
  });

  test.each(Object.entries(SETS))(
    '%s: the answers to %d sets of readings are those of steer',
    async (name, count) => {
      const { differing, figures } = await comparedAnswers(browser, name, count);
      expect(differing.slice(0, 20)).toEqual([]);
      expect(figures).toBeGreaterThan(20 * count);
    },
  );
});
