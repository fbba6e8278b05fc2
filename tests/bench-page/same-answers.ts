/// <reference lib="dom" />
/**
 * Sets of readings worked out twice: in the page in Chromium from the data in the page, and here from the scenario's file by the functions
 * of `steer --json`. Every figure of the answer and every word is compared.
 */
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import type { Design } from '../../src/design/design.ts';
import { patchNumbers } from '../../src/metrology/sensing/order-of-work.ts';
import { alongSenses } from '../../src/metrology/steering/seen-readings.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { steeringFindings } from '../../src/metrology/steering/steering-findings.ts';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { steeringReport } from '../../src/writing/steering/steering-report.ts';
import { designOf } from '../writing/sheet/made-sheets.ts';
import { openBench } from './page-in-browser.ts';
import { randomReadings } from './random-readings.ts';

/** Of each figure, in its unit (um, urad, turns, fringes) and of its size. */
const TOLERANCE = 1e-9;

export interface Compared {
  /** What is not the same, and what the page complained of. */
  readonly differing: readonly string[];
  /** Figures that were compared. */
  readonly figures: number;
}

export async function comparedAnswers(browser: Browser, example: string, count: number): Promise<Compared> {
  const design = designOf(readFileSync(`examples/${example}.yaml`, 'utf8'));
  const texts = randomReadings(design, example, count);
  const { page, complaints } = await openBench(browser, design);
  const shown: unknown[] = await page.evaluate(
    (given) => given.map((text) => JSON.parse(JSON.stringify(window.datumlight.steer(text)))),
    texts,
  );
  await page.context().close();
  let figures = 0;
  const differing = texts.flatMap((text, k) => {
    const known: unknown = JSON.parse(JSON.stringify(answerOf(design, text)));
    return differences(shown[k], known, `set ${k}`, () => figures++);
  });
  return { differing: [...complaints, ...differing], figures };
}

function answerOf(design: Design, text: string): unknown {
  const read = readReadings(text, 'readings.yml', design.scenario, patchNumbers(design));
  if (read.readings === undefined) return { findings: read.findings };
  const camera = { ...PLAIN_ORIENTATION, ...read.camera };
  const { readings, findings } = alongSenses(design, read.readings, camera);
  if (findings.length > 0) return { findings };
  const steering = steer(design, readings);
  return steeringReport(design, steering, steeringFindings(steering));
}

/** With the places of what differs; figures to TOLERANCE. */
export function differences(
  shown: unknown,
  known: unknown,
  at: string,
  count: () => void = () => undefined,
): string[] {
  if (typeof known === 'number' && typeof shown === 'number') {
    count();
    const off = Math.abs(shown - known) / Math.max(1, Math.abs(known));
    return off <= TOLERANCE ? [] : [`${at}: ${shown} instead of ${known}`];
  }
  if (!isObject(known) || !isObject(shown))
    return shown === known ? [] : [`${at}: ${JSON.stringify(shown)} instead of ${JSON.stringify(known)}`];
  const keys = new Set([...Object.keys(known), ...Object.keys(shown)]);
  // Where a finding stands in the text is added by whoever has the text.
  keys.delete('place');
  return [...keys].flatMap((key) => differences(shown[key], known[key], `${at} ${key}`, count));
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;
