/// <reference lib="dom" />
/**
 * The ways in which a frame comes onto the bench page: from the clipboard, as frames in phase steps or a phase map that are dropped, from the
 * browser's own camera, which shows a frame from a file here. Held against the planes from which the frames are made, and against `read`.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { balls, designOf, greyOf, SIDE } from '../cli/support/frames.ts';
import { datumlight, folder, scenarioFile } from '../cli/support/run.ts';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { type Grey, png } from '../reading/frames/frame-bytes.ts';
import { drop, dropFrames, readingsText } from './on-the-page.ts';
import { CHROMIUM, type OpenPage, openBench, startChromium } from './page-in-browser.ts';
import { FRINGES, planePath } from './plane-frames.ts';

type Fringes = Extract<BenchReading, { kind: 'fringes' }>;

/** Without a bias: aligned, a patch shows nothing. */
const SCENARIO = scenarioFile(readFileSync(balls(), 'utf8').replaceAll(/\n *bias: .*/g, ''));
const design = designOf(SCENARIO);
const dir = folder();
const path = planePath(design, SIDE);
const steps = [0, 1, 2, 3].map((step) => {
  const samples = Array.from(path, (one) =>
    Number.isNaN(one) ? 0 : Math.round(255 * (0.5 + 0.4 * Math.cos(2 * Math.PI * (one + step / 4)))),
  );
  return written(`step-${step}.png`, png({ width: SIDE, height: SIDE, samples }, 8));
});

function written(name: string, content: string | Uint8Array): string {
  writeFileSync(join(dir, name), content);
  return join(dir, name);
}

/** Text of a grid of numbers, waves. */
function csv(): string {
  const rows = Array.from({ length: SIDE }, (_, row) =>
    Array.from(path.subarray(row * SIDE, (row + 1) * SIDE), (one) =>
      Number.isNaN(one) ? '' : one.toFixed(5),
    ).join(','),
  );
  return rows.join('\n');
}

/** The form of numpy, version 1.0: doubles in this machine's order, in radians. */
function npy(): Buffer {
  const head = `{'descr': '<f8', 'fortran_order': False, 'shape': (${SIDE}, ${SIDE}), }`.padEnd(117);
  const size = Buffer.from([118, 0]);
  const values = Buffer.from(path.map((one) => 2 * Math.PI * one).buffer);
  return Buffer.concat([Buffer.from('\x93NUMPY\x01\x00', 'latin1'), size, Buffer.from(`${head}\n`), values]);
}

/** A moving picture of one picture, without colour; of a byte, video takes 16 for black and 235 for white. */
function y4m({ width, height, samples }: Grey): Buffer {
  const head = `YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\nFRAME\n`;
  const colour = Buffer.alloc((width * height) / 2, 128);
  return Buffer.concat([
    Buffer.from(head),
    Buffer.from(samples.map((value) => 16 + Math.round((219 * value) / 255))),
    colour,
  ]);
}

function inFile(text: string): readonly Fringes[] {
  const { readings, findings } = readReadings(text, 'readings.yml', design.scenario);
  if (readings === undefined) throw new Error(JSON.stringify(findings));
  return (readings as readonly Fringes[]).toSorted((a, b) => (a.patch < b.patch ? -1 : 1));
}

/** None where no row is filled in. */
async function onPage(page: Page): Promise<readonly Fringes[]> {
  const text = await readingsText(page);
  return text.includes('patch:') ? inFile(text) : [];
}

function expectPlanes(readings: readonly Fringes[]): void {
  expect(readings).toHaveLength(3);
  for (const { fringes, signKnown } of readings) {
    expect(signKnown).toBe(true);
    // To the 3 % by which a patch's fringes are no plane, and its edge no pixel's.
    for (const [k, count] of FRINGES.entries()) expect(Math.abs(fringes[k]! - count)).toBeLessThan(0.08);
  }
}

describe.skipIf(lacks({ chromium: CHROMIUM }))('frames come onto the bench page', () => {
  let browser: Browser;
  let page: Page;
  let complaints: readonly string[];
  let ballsPage: OpenPage;
  /** More pixels than the 640 × 480 of a browser that is not asked for them. */
  const seen = greyOf(designOf(balls()));
  const large: Grey = {
    ...{ width: 4 * SIDE, height: 4 * SIDE },
    samples: Array.from({ length: 16 * SIDE * SIDE }, (_, k) => {
      const [column, rowNumber] = [k % (4 * SIDE), Math.floor(k / (4 * SIDE))];
      return seen.samples[Math.floor(rowNumber / 4) * SIDE + Math.floor(column / 4)]!;
    }),
  };
  beforeAll(async () => {
    const film = written('camera.y4m', y4m(large));
    browser = await startChromium(`--use-file-for-fake-video-capture=${film}`);
    ({ page, complaints } = await openBench(browser, design));
    const permissions = ['camera', 'clipboard-read', 'clipboard-write'];
    ballsPage = await openBench(browser, designOf(balls()), { permissions });
  });
  afterAll(() => browser?.close());
  const stepsAre = (words: string) =>
    page.getByLabel('From frame to frame the path of the return gets').selectOption(words);
  const numbersAre = (unit: string) => page.getByLabel('Fractional numbers are').selectOption(unit);

  test('four frames dropped together are phase steps, with the sign of the way that is said', async () => {
    await stepsAre('longer');
    await dropFrames(page, steps);
    expectPlanes(await onPage(page));
    const out = join(dir, 'readings.yml');
    expect((await datumlight(['read', SCENARIO, ...steps, '--steps', 'longer', '--out', out])).code).toBe(0);
    const longer = await onPage(page);
    expect(longer).toEqual(inFile(readFileSync(out, 'utf8')));
    await stepsAre('shorter');
    for (const [k, { fringes }] of (await onPage(page)).entries())
      expect(fringes[0]).toBeCloseTo(-longer[k]!.fringes[0]!, 2);
  });

  test.each([
    ['a grid of numbers in waves', 'waves', () => written('map.csv', csv())],
    ['a numpy array in radians', 'rad', () => written('map.npy', npy())],
  ] as const)('%s, whose unit is said after it is dropped, is a phase map', async (_, unit, made) => {
    await stepsAre('longer');
    await numbersAre('');
    const file = made();
    await drop(page, [file]);
    await numbersAre(unit);
    await expect.poll(async () => (await onPage(page)).length).toBe(3);
    expectPlanes(await onPage(page));
    await numbersAre('');
  });

  test('a picture in the clipboard is pasted by its key', async () => {
    const file = written('seen.png', png(seen, 8));
    await dropFrames(ballsPage.page, [file]);
    const dropped = await onPage(ballsPage.page);
    expect(dropped).toHaveLength(3);
    await ballsPage.page.getByRole('button', { name: 'Clear all readings' }).click();
    await ballsPage.page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
      const picture = new Blob([bytes], { type: 'image/png' });
      await navigator.clipboard.write([new ClipboardItem({ 'image/png': picture })]);
    }, readFileSync(file).toString('base64'));
    await ballsPage.page.keyboard.press('Control+v');
    await expect.poll(async () => (await onPage(ballsPage.page)).length).toBe(3);
    expect(await onPage(ballsPage.page)).toEqual(dropped);
  });

  test('the browser’s own camera gives all its pixels, and its picture is read as a frame', async () => {
    const out = join(dir, 'balls.yml');
    const file = written('balls.png', png(large, 8));
    const read = await datumlight(['read', balls(), file, '--out', out]);
    expect(read.code, read.stderr).toBe(0);
    const known = inFile(readFileSync(out, 'utf8'));
    await ballsPage.page.getByRole('button', { name: 'Clear all readings' }).click();
    await ballsPage.page.getByRole('button', { name: 'Use a camera' }).click();
    await ballsPage.page.getByRole('button', { name: 'Take this picture' }).click();
    await expect.poll(async () => (await onPage(ballsPage.page)).length).toBe(known.length);
    const size = await ballsPage.page
      .locator('#frames canvas')
      .evaluate((one) => [(one as HTMLCanvasElement).width, (one as HTMLCanvasElement).height]);
    expect(size).toEqual([large.width, large.height]);
    const shown = await onPage(ballsPage.page);
    expect(shown.map(({ patch }) => patch)).toEqual(known.map(({ patch }) => patch));
    for (const [k, { fringes, uncertainty }] of shown.entries())
      for (const [sense, value] of fringes.entries())
        expect(Math.abs(value! - known[k]!.fringes[sense]!)).toBeLessThan(4 * uncertainty!);
    await ballsPage.page.getByRole('button', { name: 'Stop the camera' }).click();
    expect(await ballsPage.page.locator('video').count()).toBe(0);
    expect([...complaints, ...ballsPage.complaints]).toEqual([]);
  });
});
