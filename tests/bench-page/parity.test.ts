/// <reference lib="dom" />
/**
 * The page computes what the command computes: 1,000 random sets of readings of six designs, worked out in the browser from the data in
 * the page, and here from the scenario's file by the functions of `steer --json`. Every figure of the answer, every word.
 */
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { patchNumbers } from '../../src/metrology/sensing/order-of-work.ts';
import { alongSenses } from '../../src/metrology/steering/seen-readings.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { steeringFindings } from '../../src/metrology/steering/steering-findings.ts';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { steeringReport } from '../../src/writing/steering/steering-report.ts';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { designOf } from '../writing/sheet/made-sheets.ts';
import { CHROMIUM, openBench, startChromium } from './page-in-browser.ts';
import { randomReadings } from './random-readings.ts';

/** Of each figure, in its unit (um, urad, turns, fringes) and of its size: the data in the page have 13 digits. */
const TOLERANCE = 1e-9;

const DESIGNS = {
  'steer-mirror-on-stage': 30,
  'diverging-balls': 30,
  'converging-retroreflectors': 30,
  'full-bench': 30,
  'infrared-collimated': 30,
  'off-axis-asphere': 30,
} as const;

test('the designs share 1,000 sets of readings', () => {
  expect(Object.values(DESIGNS).reduce((sum, count) => sum + count, 0)).toBe(1000);
});

describe.skipIf(lacks({ chromium: CHROMIUM }))('the page in Chromium', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startChromium();
  });
  afterAll(() => browser?.close());

  test.each(Object.entries(DESIGNS))('%s: the answers to %d sets of readings', async (name, count) => {
    const design = designOf(readFileSync(`examples/${name}.yaml`, 'utf8'));
    const texts = randomReadings(design, name, count);
    const { page, complaints } = await openBench(browser, design);
    const shown: unknown[] = await page.evaluate(
      (given) => given.map((text) => JSON.parse(JSON.stringify(window.datumlight.steer(text)))),
      texts,
    );
    expect(complaints).toEqual([]);
    const differing = texts.flatMap((text, k) => {
      const known = JSON.parse(JSON.stringify(answerOf(design, text)));
      return differences(shown[k], known, `set ${k}`);
    });
    expect(differing.slice(0, 20)).toEqual([]);
    await page.close();
  });
});

function answerOf(design: ReturnType<typeof designOf>, text: string): unknown {
  const read = readReadings(text, 'readings.yml', design.scenario, patchNumbers(design));
  if (read.readings === undefined) return { findings: read.findings };
  const camera = { ...PLAIN_ORIENTATION, ...read.camera };
  const { readings, findings } = alongSenses(design, read.readings, camera);
  if (findings.length > 0) return { findings };
  const steering = steer(design, readings);
  return steeringReport(design, steering, steeringFindings(steering));
}

function differences(shown: unknown, known: unknown, at: string): string[] {
  if (typeof known === 'number' && typeof shown === 'number') {
    const off = Math.abs(shown - known) / Math.max(1, Math.abs(known));
    return off <= TOLERANCE ? [] : [`${at}: ${shown} instead of ${known}`];
  }
  if (!isObject(known) || !isObject(shown))
    return shown === known ? [] : [`${at}: ${JSON.stringify(shown)} instead of ${JSON.stringify(known)}`];
  const keys = new Set([...Object.keys(known), ...Object.keys(shown)]);
  keys.delete('place');
  return [...keys].flatMap((key) => differences(shown[key], known[key], `${at} ${key}`));
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;
