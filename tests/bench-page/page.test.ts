/// <reference lib="dom" />
/**
 * The bench page as its operator uses it, in real Chromium from a file, the network off: readings by hand, moves, rounds, files for the
 * commands, the camera's orientation, pictures. What is shown is held against the command's own output.
 */
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { sha256 } from '../../src/writing/manifest.ts';
import { datumlight, example, folder } from '../cli/support/run.ts';
import { lacks } from '../machine/outside-programs.ts';
import '../machine/patience.ts';
import { designOf } from '../writing/sheet/made-sheets.ts';
import { CHROMIUM, HEAD, openBench, startChromium } from './page-in-browser.ts';

const STAGE = 'steer-mirror-on-stage';
const text = readFileSync(example(STAGE), 'utf8');
const design = designOf(text);
const head = { ...HEAD, scenarioHash: sha256(text) };

/** What the example's readings file holds, typed into the rows. */
const typed = [
  ...readFileSync(`examples/${STAGE}.readings.yml`, 'utf8').matchAll(/patch: ([\w-]+), fringes: (\S+?)[,}]/g),
];

async function fill(page: Page, rows: readonly (readonly [patch: string, count: string])[]): Promise<void> {
  for (const [patch, count] of rows) await field(page, patch, 'first').fill(count);
}
const field = (page: Page, patch: string, name: string) =>
  page
    .locator('fieldset.row', { has: page.locator('legend', { hasText: new RegExp(` ${patch} `) }) })
    .locator(`label.${name} input`);
const said = (page: Page): Promise<string> =>
  page.locator('.said').evaluateAll((all) => all.map((one) => one.textContent).join(''));

async function saved(page: Page, words: string): Promise<string> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: words }).click();
  const file = join(folder(), (await download).suggestedFilename());
  await (await download).saveAs(file);
  return file;
}

describe.skipIf(lacks({ chromium: CHROMIUM }))('the bench page', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startChromium();
  });
  afterAll(() => browser?.close());

  test('readings typed into the rows give the screws’ turns that steer prints, and files that steer and record take', async () => {
    expect(typed.length).toBeGreaterThan(5);
    const { page, complaints } = await openBench(browser, design, { head });
    await fill(
      page,
      typed.map(([, patch, count]) => [patch!, count!] as const),
    );
    const readings = await saved(page, 'Save readings');
    const { stdout, code } = await datumlight(['steer', example(STAGE), '--readings', readings]);
    expect(code).toBe(0);
    const screws = await page.locator('table', { hasText: 'Screws' }).locator('tbody tr').allInnerTexts();
    expect(screws).toHaveLength(6);
    for (const row of screws) {
      const [name, turns, own] = row.split('\t');
      expect(stdout).toMatch(new RegExp(`^  ${name} +${turns!.replace('+', '\\+')} ± ${own} `, 'm'));
    }
    // The whole answer, word by word.
    expect(await page.locator('#moves pre').textContent()).toBe(stdout.trimEnd());

    await page.getByRole('button', { name: 'Keep this round' }).click();
    expect(await page.locator('.rounds li').allInnerTexts()).toHaveLength(1);
    expect(await page.evaluate(() => window.datumlight.readings())).not.toContain('patch');
    const session = await saved(page, 'Save session');
    const again = await datumlight(['steer', example(STAGE), '--session', session]);
    expect(again.stderr).toBe('');
    expect(again.stdout).toContain('Round 1 of');

    await page.getByRole('button', { name: 'Take back the last round' }).click();
    expect(await page.evaluate(() => window.datumlight.readings())).toBe(readFileSync(readings, 'utf8'));
    const chosen = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Load session' }).click();
    await (await chosen).setFiles(session);
    await page.locator('.rounds li').first().waitFor();
    await page.getByRole('button', { name: 'Take back the last round' }).click();
    expect(await page.locator('#moves pre').textContent()).toBe(stdout.trimEnd());

    await page.getByText('Log for the record').click();
    await page.getByLabel('serial number of the hologram').fill('H-0042');
    await page.getByLabel('date', { exact: true }).fill('2026-01-31');
    await page.getByLabel('temperature').fill('20.4');
    await page.getByRole('button', { name: 'Keep this round' }).click();
    const log = await saved(page, 'Save log');
    copyFileSync(await saved(page, 'Save session'), join(dirname(log), 'session.yml'));
    const [pack, record] = [join(folder(), 'package'), join(folder(), 'record')];
    expect((await datumlight(['make', example(STAGE), '--out', pack])).code).toBe(0);
    const recorded = await datumlight([
      'record',
      example(STAGE),
      '--log',
      log,
      '--package',
      pack,
      '--out',
      record,
    ]);
    expect(recorded.stderr).toBe('');
    expect(recorded.stdout).toContain('H-0042');
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('what is wrong with a reading is said under its row in the words of steer, and no moves are told', async () => {
    const { page, complaints } = await openBench(browser, design, { head });
    const [first] = design.patches;
    for (const [name, value] of [
      ['first', 'three'],
      ['first', '1e99'],
      ['toward', '13'],
      ['uncertainty', '-1'],
    ] as const) {
      await page.getByRole('button', { name: 'Clear all readings' }).click();
      await field(page, first!.id, 'first').fill('1');
      await field(page, first!.id, name).fill(value);
      const file = join(folder(), 'readings.yml');
      writeFileSync(file, await page.evaluate(() => window.datumlight.readings()));
      const { stdout } = await datumlight(['steer', example(STAGE), '--readings', file, '--json']);
      const { findings } = JSON.parse(stdout) as {
        findings: { message: string; hint: string; rule: string }[];
      };
      expect(await said(page)).toBe(
        findings.map(({ message, hint, rule }) => `error: ${message}; ${hint} [${rule}]`).join(''),
      );
      expect(await page.locator('#moves table').count()).toBe(0);
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('a round read with all signs wrong after the moves is refused, as steer --session refuses it', async () => {
    const { page } = await openBench(browser, design, { head });
    const rows = typed.map(([, patch, count]) => [patch!, count!] as const);
    await fill(page, rows);
    await page.getByRole('button', { name: 'Keep this round' }).click();
    // The moves were made the wrong way: what was to be halved or undone has grown.
    await fill(
      page,
      rows.map(([patch, count]) => [patch, String(2 * Number(count))] as const),
    );
    expect(await page.locator('#moves').textContent()).toContain('[moves-reversed]');
    expect(await page.locator('#moves table').count()).toBe(0);
    await page.context().close();
  });

  test('two covered patches, pointed at by keyboard, turn the drawing and the words', async () => {
    const { page, complaints } = await openBench(browser, design, { head });
    await page.getByRole('button', { name: 'Find it by covering two patches' }).click();
    // Patch 1 stands at the top; the camera shows it dark at the bottom, where the drawing has patch 2.
    await page.getByLabel('I cover with a card patch').selectOption(design.patches[0]!.id);
    await page.getByRole('button', { name: `patch 2, ${design.patches[1]!.id}`, exact: true }).focus();
    await page.keyboard.press('Enter');
    const words = await page.locator('.asking [role=status]').textContent();
    expect(words).toMatch(/^(2 orientations show that|No orientation shows)/);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('a knob changes the pictures of what it moves', async () => {
    const { page, complaints } = await openBench(browser, design, { head });
    const canvas = page.locator('.pictures canvas').first();
    await canvas.scrollIntoViewIfNeeded();
    const shown = (): Promise<string> => canvas.evaluate((each) => (each as HTMLCanvasElement).toDataURL());
    await expect.poll(() => page.evaluate(() => window.datumlight.lastRedraw().pictures)).toBeGreaterThan(0);
    const before = await shown();
    await page.locator('.knob input').first().focus();
    for (let k = 0; k < 5; k++) await page.keyboard.press('ArrowRight');
    await expect.poll(shown).not.toBe(before);
    await page.getByRole('button', { name: 'All to 0' }).click();
    await expect.poll(shown).toBe(before);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('paper shows every picture with its name, also one that was never in view', async () => {
    const { page, complaints } = await openBench(browser, design, { head });
    // As the browser does it before it prints; media alone, emulated, raises no such event.
    await page.emulateMedia({ media: 'print' });
    await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
    const figures = await page.locator('.pictures figure').evaluateAll((all) =>
      all.map((one) => {
        const canvas = one.querySelector('canvas')!;
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
        // biome-ignore lint/performance/useDomNodeTextContent: a name that is hidden on paper must not count
        return { named: (one as HTMLElement).innerText.trim(), levels: new Set(data).size };
      }),
    );
    expect(figures.map(({ named }) => named)).toEqual(design.patches.map(({ id }, k) => `${k + 1} ${id}`));
    // A canvas that nothing is painted on has one level.
    for (const { levels } of figures) expect(levels).toBeGreaterThan(10);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
