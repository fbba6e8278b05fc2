/// <reference lib="dom" />
/**
 * Frames on the bench page: a frame that is opened or dropped gives what the command `read` gives, a reading by hand stays, what is no frame
 * is refused in the same words, and the browser's own camera is asked only when the operator asks for it.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { datumlight, example, folder } from '../cli/support/run.ts';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { designOf } from '../writing/sheet/made-sheets.ts';
import { drop } from './on-the-page.ts';
import { CHROMIUM, openBench, startChromium } from './page-in-browser.ts';

const STAGE = 'steer-mirror-on-stage';
const design = designOf(readFileSync(example(STAGE), 'utf8'));
const MOVED = 'part: [0.4 um, -0.3 um, 2 um, 3 urad, 0, 0]';

describe.skipIf(lacks({ chromium: CHROMIUM }))('frames on the bench page', () => {
  let browser: Browser;
  let frame = '';
  let known: { readonly text: string; readonly printed: string };
  beforeAll(async () => {
    browser = await startChromium();
    const out = join(folder(), 'pictures');
    const made = await datumlight([
      'fringes',
      example(STAGE),
      '--out',
      out,
      '--camera',
      '--noise',
      '0.02',
      '--at',
      MOVED,
      '--patch',
      'north-near',
    ]);
    expect(made.stderr).toBe('');
    frame = join(out, 'frame-displaced-1.png');
    const file = join(folder(), 'readings.yml');
    const { stdout, code } = await datumlight(['read', example(STAGE), frame, '--out', file]);
    expect(code).toBe(0);
    known = { text: readFileSync(file, 'utf8'), printed: stdout };
  });
  afterAll(() => browser?.close());

  test('a frame gives the readings and the words that the command read gives; a reading by hand stays', async () => {
    const { page, complaints } = await openBench(browser, design);
    await openFrame(page, frame);
    expect(await readingsOf(page)).toEqual(readingsIn(known.text, design.scenario));
    expect(readingsIn(known.text, design.scenario).length).toBeGreaterThan(5);
    const words = await page.locator('#frames pre').textContent();
    expect(words!.split('\n').slice(1)).toEqual(known.printed.trimEnd().split('\n').slice(1));
    expect(await page.locator('legend', { hasText: 'from the frame' }).count()).toBe(
      readingsIn(known.text, design.scenario).length,
    );

    const first = page.locator('fieldset.row label.first input').first();
    await first.fill('7.25');
    await openFrame(page, frame);
    expect(await first.inputValue()).toBe('7.25');
    expect(await page.locator('legend', { hasText: 'from the frame' }).count()).toBe(
      readingsIn(known.text, design.scenario).length - 1,
    );
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('dropped on the page it gives the same', async () => {
    const { page, complaints } = await openBench(browser, design);
    const bytes = readFileSync(frame).toString('base64');
    const data = await page.evaluateHandle((text) => {
      const transfer = new DataTransfer();
      transfer.items.add(
        new File([Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))], 'frame.png'),
      );
      return transfer;
    }, bytes);
    await page.dispatchEvent('.drop', 'drop', { dataTransfer: data });
    await page.locator('#frames pre').waitFor();
    expect(await readingsOf(page)).toEqual(readingsIn(known.text, design.scenario));
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('a bench file, dropped after the frame, says where its picture has the beam, as it does to read', async () => {
    const { page, complaints } = await openBench(browser, design);
    await openFrame(page, frame);
    const { pixelsAcrossBeam } = design.scenario.interferometer;
    const middle = (pixelsAcrossBeam - 1) / 2;
    // A pixel off, so that it matters.
    const place = `centre: [${middle + 1}, ${middle}], pixelsPerMm: ${pixelsAcrossBeam / design.beam.cameraDiameter}`;
    const bench = join(folder(), 'bench.yml');
    writeFileSync(bench, `camera: {turned: 0, ${place}}\n`);
    const { stdout } = await datumlight(['read', example(STAGE), frame, '--bench', bench]);
    const words = (): Promise<string | null> => page.locator('#frames pre').textContent();
    expect((await words())!).not.toContain(stdout.split('\n')[4]!);
    await drop(page, [bench]);
    await expect
      .poll(async () => (await words())!.split('\n').slice(1))
      .toEqual(stdout.trimEnd().split('\n').slice(1));
    writeFileSync(bench, 'camera: {centre: [1]}\n');
    await drop(page, [bench]);
    await expect.poll(() => page.locator('#frames [role=status] p').count()).toBeGreaterThan(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('what is no frame is refused in the words of read, and the frame before counts no more', async () => {
    const { page } = await openBench(browser, design);
    await openFrame(page, frame);
    const fromFrame = page.locator('legend', { hasText: 'from the frame' });
    expect(await fromFrame.count()).toBeGreaterThan(5);
    const file = join(folder(), 'notes.png');
    writeFileSync(file, 'no picture');
    const { stderr } = await datumlight(['read', example(STAGE), file, '--out', '-']);
    await chooseFile(page, file);
    const said = page.locator('#frames [role=status] p');
    await said.waitFor();
    const [, message] = /error: notes\.png: (.*?);/.exec((await said.textContent())!)!;
    expect(stderr).toContain(message);
    expect(await fromFrame.count()).toBe(0);
    expect(await page.locator('#moves table').count()).toBe(0);
    await page.context().close();
  });

  test('what was opened last counts, though the file before it is read later', async () => {
    const { page } = await openBench(browser, design);
    await page.evaluate(() => {
      const read = Blob.prototype.arrayBuffer;
      let waits = true;
      Blob.prototype.arrayBuffer = async function () {
        const isFirst = waits;
        waits = false;
        if (isFirst) await new Promise<void>((resolve) => addEventListener('go-on', () => resolve()));
        return read.call(this);
      };
    });
    const late = join(folder(), 'late.png');
    writeFileSync(late, 'no picture');
    await drop(page, [late]);
    await drop(page, [frame]);
    await page.locator('#frames pre').waitFor();
    await page.evaluate(async () => {
      dispatchEvent(new Event('go-on'));
      await new Promise((resolve) => setTimeout(resolve, 100));
    });
    expect(await page.locator('#frames [role=status] .error').count()).toBe(0);
    expect(await readingsOf(page)).toEqual(readingsIn(known.text, design.scenario));
    await page.context().close();
  });

  test('a file that was written anew since it was opened is named, and its numbers count no more', async () => {
    const { page, complaints } = await openBench(browser, design);
    const file = join(folder(), 'live.png');
    writeFileSync(file, readFileSync(frame));
    await openFrame(page, file);
    writeFileSync(file, 'something else, and of another length');
    await page.getByLabel('Fractional numbers are').selectOption('rad');
    const said = page.locator('#frames [role=status] .error');
    await said.waitFor();
    expect(await said.textContent()).toMatch(/^error: live\.png: cannot be read: .*; open it again/);
    expect(await page.locator('legend', { hasText: 'from the frame' }).count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('the browser’s camera is asked for by its button, and its picture is taken as a frame', async () => {
    const { page } = await openBench(browser, design, { permissions: ['camera'] });
    expect(await page.locator('video').count()).toBe(0);
    await page.getByRole('button', { name: 'Use a camera' }).click();
    const answer = page.locator('.live');
    await expect.poll(() => answer.textContent()).toMatch(/Take this picture|The browser gives no camera/);
    await page.context().close();
  });
});

async function chooseFile(page: Page, file: string): Promise<void> {
  const chosen = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open frames' }).click();
  await (await chosen).setFiles(file);
}

async function openFrame(page: Page, file: string): Promise<void> {
  await page.locator('#frames pre').evaluateAll((all) => {
    for (const one of all) one.remove();
  });
  await chooseFile(page, file);
  await page.locator('#frames pre').waitFor();
}

const readingsIn = (text: string, scenario: Scenario) => {
  const { readings, findings } = readReadings(text, 'readings.yml', scenario);
  if (readings === undefined) throw new Error(JSON.stringify(findings));
  return readings.toSorted((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
};

const readingsOf = async (page: Page) =>
  readingsIn(await page.evaluate(() => window.datumlight.readings()), design.scenario);
