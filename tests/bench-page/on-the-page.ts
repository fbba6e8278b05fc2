/// <reference lib="dom" />
/** What an operator does on the bench page: files dropped and saved, fields of a row, rounds kept. */
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { folder } from '../cli/support/run.ts';

/** Drops files together, as from a file manager. */
export async function drop(page: Page, files: readonly string[]): Promise<void> {
  const given = files.map((file) => ({ name: basename(file), text: readFileSync(file).toString('base64') }));
  const data = await page.evaluateHandle((all) => {
    const transfer = new DataTransfer();
    for (const { name, text } of all)
      transfer.items.add(new File([Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))], name));
    return transfer;
  }, given);
  await page.dispatchEvent('.drop', 'drop', { dataTransfer: data });
}

/** Drops frames and waits until they are read. */
export async function dropFrames(page: Page, files: readonly string[]): Promise<void> {
  await page.locator('#frames pre').evaluateAll((all) => {
    for (const one of all) one.remove();
  });
  await drop(page, files);
  await page.locator('#frames pre').waitFor();
}

export const row = (page: Page, patch: string): Locator =>
  page.locator('fieldset.row', {
    has: page.locator('legend', { hasText: new RegExp(` ${patch} `) }),
  });

export const field = (page: Page, patch: string, name: string): Locator =>
  row(page, patch).locator(`label.${name} input`);

/** Presses a button that saves a file: where it was saved. */
export async function saved(page: Page, words: string): Promise<string> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: words }).click();
  const file = join(folder(), (await download).suggestedFilename());
  await (await download).saveAs(file);
  return file;
}

export const readingsText = (page: Page): Promise<string> =>
  page.evaluate(() => window.datumlight.readings());
