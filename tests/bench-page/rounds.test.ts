/// <reference lib="dom" />
/**
 * An alignment on the bench page from frames of balls beside a tilt bias, each of which shows two readings alike: what the page makes of the
 * pairs, of a reading by hand in their place, of the trial move and of rounds taken back is what `read` and `steer --session` make of them.
 * mm, rad, fringes.
 */
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import { readSession } from '../../src/reading/bench/read-session.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { sha256 } from '../../src/writing/manifest.ts';
import { balls, designOf, greyOf } from '../cli/support/frames.ts';
import { datumlight, folder } from '../cli/support/run.ts';
import { rotationAbout } from '../independent/stage-operator.ts';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { tracedBench } from '../metrology/frame/support/traced-bench.ts';
import { png } from '../reading/frames/frame-bytes.ts';
import { drop, dropFrames, field, readingsText, row, saved } from './on-the-page.ts';
import { CHROMIUM, HEAD, openBench, startChromium } from './page-in-browser.ts';
import { differences } from './same-answers.ts';

type Six = readonly [number, number, number, number, number, number];
type Fringes = Extract<BenchReading, { kind: 'fringes' }>;
interface Written {
  readonly found: { readonly part: { readonly sigma: Readonly<Record<string, number>> } };
}
interface Report {
  readonly part: {
    readonly trial: { readonly move_um: Record<string, number>; readonly move_urad: Record<string, number> };
  };
}

const design = designOf(balls());
const scenarioNow = { sha256: sha256(readFileSync(balls(), 'utf8')), files: {} };
const head = { ...HEAD, scenarioHash: scenarioNow.sha256 };
/** mm and rad in the units of the session, um and urad. */
const PER: Six = [1e-3, 1e-3, 1e-3, 1e-6, 1e-6, 1e-6];
const OFF: Six = [0.002, -0.001, 0.004, 0, 0, 2e-5];

/** The part off by a move and a turn about its origin. */
function frameAt([x, y, z, rx, ry, rz]: Six): string {
  const file = join(folder(), 'frame.png');
  const grey = greyOf(design, { part: { translation: [x, y, z], rotation: [rx, ry, rz] } });
  writeFileSync(file, png(grey, 8));
  return file;
}

const inFile = (text: string): readonly Fringes[] => {
  const { readings, findings } = readReadings(text, 'readings.yml', design.scenario);
  if (readings === undefined) throw new Error(JSON.stringify(findings));
  return (readings as readonly Fringes[]).toSorted((a, b) => (a.patch < b.patch ? -1 : 1));
};
const onPage = async (page: Page): Promise<readonly Fringes[]> => inFile(await readingsText(page));

async function readBy(frame: string, ...options: readonly string[]): Promise<string> {
  const out = join(folder(), 'readings.yml');
  expect((await datumlight(['read', balls(), frame, '--out', out, ...options])).code).toBe(0);
  return out;
}

describe.skipIf(lacks({ chromium: CHROMIUM }))('rounds from frames', () => {
  let browser: Browser;
  let page: Page;
  let complaints: readonly string[];
  const frame = frameAt(OFF);
  beforeAll(async () => {
    browser = await startChromium();
    ({ page, complaints } = await openBench(browser, design, { head }));
  });
  afterAll(() => browser?.close());

  test('a ball beside a tilt bias gives two readings, one of which is as an independent trace has it', async () => {
    await dropFrames(page, [frame]);
    const readings = await onPage(page);
    expect(readings).toEqual(inFile(readFileSync(await readBy(frame), 'utf8')));
    const [x, y, z, , , angle] = OFF;
    const part = { shift: [x, y, z], rotation: rotationAbout([0, 0, 1], angle) } as const;
    for (const { id, truth } of tracedBench(design)({ part })) {
      const { fringes, or, uncertainty } = readings.find(({ patch }) => patch === id)!;
      const off = [fringes, or!].map((values) =>
        Math.max(...truth.map((value, k) => Math.abs(values[k]! - value))),
      );
      // Of three values, the largest deviation.
      expect(Math.min(...off), id).toBeLessThan(4 * uncertainty!);
      expect(Math.max(...off), id).toBeGreaterThan(1);
      const [first, second, power] = or!;
      expect(await field(page, id, 'or').inputValue()).toBe([first, second, power].join('; '));
      expect(await row(page, id).locator('legend').textContent()).toContain('from the frame');
    }
  });

  test('the moves from such pairs are those of steer --json, from the file that the page saves', async () => {
    const file = await saved(page, 'Save readings');
    expect(readFileSync(file, 'utf8')).toMatch(/or: \[/);
    const { code, stdout } = await datumlight(['steer', balls(), '--readings', file, '--json']);
    expect(code).toBe(0);
    const known = JSON.parse(stdout);
    const shown = JSON.parse(
      await page.evaluate(() => JSON.stringify(window.datumlight.steer(window.datumlight.readings()))),
    );
    expect(shown.part.candidates.length).toBeGreaterThan(1);
    for (const key of Object.keys(shown)) expect(differences(shown[key], known[key], key)).toEqual([]);
    const plain = await datumlight(['steer', balls(), '--readings', file]);
    expect(await page.locator('#moves pre').textContent()).toBe(plain.stdout.trimEnd());
  });

  test('a reading by hand takes the place of all that the frame said of the patch, and stays', async () => {
    const fromFrame = await onPage(page);
    await field(page, 'top', 'first').fill('0.75');
    const known = fromFrame.map((one) =>
      one.patch === 'top' ? inFile('readings:\n  - {patch: top, fringes: [0.75, ~]}\n')[0]! : one,
    );
    expect(await onPage(page)).toEqual(known);
    expect(await row(page, 'top').locator('legend').textContent()).not.toContain('from the frame');
    await dropFrames(page, [frame]);
    expect(await onPage(page)).toEqual(known);
    // Emptied, it is the frame's again.
    await field(page, 'top', 'first').fill('');
    await dropFrames(page, [frame]);
    expect(await onPage(page)).toEqual(fromFrame);
  });

  test('a frame is read anew when the camera is said to be mirrored', async () => {
    const before = await onPage(page);
    const mirrored = page.getByLabel('Mirrored left to right');
    await mirrored.selectOption('yes');
    const known = inFile(readFileSync(await readBy(frame, '--mirrored'), 'utf8'));
    expect(known).not.toEqual(before);
    expect(await onPage(page)).toEqual(known);
    await mirrored.selectOption('no');
    expect(await onPage(page)).toEqual(before);
  });

  test('after the trial move the pairs are settled, and the session is the one that steer --session writes', async () => {
    const { part } = (await page.evaluate(() =>
      window.datumlight.steer(window.datumlight.readings()),
    )) as Report;
    const { move_um, move_urad } = part.trial;
    const trial = [
      ...Object.values(move_um).map((um) => um / 1e3),
      ...Object.values(move_urad).map((urad) => urad / 1e6),
    ];
    const after = frameAt(OFF.map((value, k) => value + trial[k]!) as unknown as Six);
    const own = join(folder(), 'session.yml');
    const asked = ['steer', balls(), '--session', own, '--readings'];
    for (const taken of [frame, after]) {
      await dropFrames(page, [taken]);
      const { stdout } = await datumlight([...asked, await readBy(taken)]);
      const shown = await page.locator('#moves pre').textContent();
      expect(stdout).toContain(shown!);
      await page.getByRole('button', { name: 'Keep this round' }).click();
      // The frame is of that round: nothing of it may fill the next one's rows.
      await page.getByLabel('no patch with a tilt bias').check();
      await page.getByLabel('no patch with a tilt bias').uncheck();
      expect(await readingsText(page)).not.toContain('patch');
    }
    const session = await saved(page, 'Save session');
    expect(readFileSync(session, 'utf8')).toBe(readFileSync(own, 'utf8'));
    const { session: kept } = readSession(
      readFileSync(session, 'utf8'),
      session,
      design.scenario,
      scenarioNow,
    );
    const [, second] = kept!.rounds;
    expect(second!.readings.every((one) => one.kind === 'fringes' && one.signKnown)).toBe(true);
    // What undoes both what was off and the trial move, within four of the standard uncertainties that the session states.
    const { sigma } = (second!.written as Written).found.part;
    const { translation, rotation } = second!.asked!.part!;
    const left = [...translation, ...rotation].map((value, k) => value + OFF[k]! + trial[k]!);
    for (const [k, degree] of DEGREES.entries())
      expect(Math.abs(left[k]!) / PER[k]!, degree).toBeLessThan(4 * sigma[degree]!);
  });

  test('a session that steer wrote goes on where it is dropped, and a round taken back keeps its moment', async () => {
    const session = join(folder(), 'from-steer.yml');
    copyFileSync(await saved(page, 'Save session'), session);
    const next = join(folder(), 'next.yml');
    const some = '\n  - {patch: top, fringes: [0, 0], power: 0, uncertainty: 0.1}';
    writeFileSync(
      next,
      `readings:${['top', 'left', 'right'].map((id) => some.replace('top', id)).join('')}\n`,
    );
    const fresh = await openBench(browser, design, { head });
    await drop(fresh.page, [session]);
    await expect.poll(() => fresh.page.locator('.rounds li').count()).toBe(2);
    const asked = ['steer', balls(), '--session', session];
    const { stdout } = await datumlight([...asked, '--readings', next, '--moment', 'clamped']);
    await fresh.page.getByLabel('These readings are taken').selectOption('clamped');
    for (const id of ['top', 'left', 'right']) {
      for (const name of ['first', 'second', 'power']) await field(fresh.page, id, name).fill('0');
      await field(fresh.page, id, 'uncertainty').fill('0.1');
    }
    expect(stdout).toContain((await fresh.page.locator('#moves pre').textContent())!);
    expect(await fresh.page.locator('#moves .state').getAttribute('class')).toBe('state done');
    expect(await fresh.page.locator('#moves .state').textContent()).toMatch(/^Done/);
    await fresh.page.getByRole('button', { name: 'Keep this round' }).click();
    expect(readFileSync(await saved(fresh.page, 'Save session'), 'utf8')).toBe(readFileSync(session, 'utf8'));
    await fresh.page.getByLabel('These readings are taken').selectOption('reseated');
    await fresh.page.getByRole('button', { name: 'Take back the last round' }).click();
    expect(await fresh.page.getByLabel('These readings are taken').inputValue()).toBe('clamped');
    expect(await fresh.page.locator('.rounds li').count()).toBe(2);
    await fresh.page.getByRole('button', { name: 'Keep this round' }).click();
    expect(readFileSync(await saved(fresh.page, 'Save session'), 'utf8')).toBe(readFileSync(session, 'utf8'));
    // The rounds left now are in no file: they go only if the operator says so.
    await fresh.page.getByRole('button', { name: 'Take back the last round' }).click();
    for (const [answer, rounds, said] of [
      ['dismiss', 2, 'is not loaded'],
      ['accept', 3, '3 rounds from'],
    ] as const) {
      const asks = fresh.page.waitForEvent('dialog');
      const dropped = drop(fresh.page, [session]);
      const dialog = await asks;
      expect(dialog.message()).toContain('not saved');
      await dialog[answer]();
      await dropped;
      await expect.poll(() => fresh.page.locator('.rounds [role=status]').textContent()).toContain(said);
      expect(await fresh.page.locator('.rounds li').count()).toBe(rounds);
    }
    expect([...complaints, ...fresh.complaints]).toEqual([]);
  });
});
