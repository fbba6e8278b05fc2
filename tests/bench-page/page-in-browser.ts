/// <reference lib="dom" />
/**
 * The bench page of a design in real Chromium, opened from a file with the network off. Chromium on PATH, or where DATUMLIGHT_CHROMIUM
 * says. Everything that a page asks for beyond its own file, and everything it complains of, is noted.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import type { Design } from '../../src/design/design.ts';
import { benchTemplate } from '../../src/disk/bench-template.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { benchPage } from '../../src/writing/bench-page/bench-page.ts';
import type { Provenance } from '../../src/writing/provenance.ts';
import { program } from '../machine/outside-programs.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';

export const CHROMIUM = process.env.DATUMLIGHT_CHROMIUM ?? program('chromium');

/** `more`: flags of its command line. */
export const startChromium = (...more: readonly string[]): Promise<Browser> =>
  chromium.launch({
    executablePath: CHROMIUM!,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      ...more,
    ],
  });

/** What a page is waited for, ms: the machine may be loaded. Less than a test's own limit, so that the step that hangs is named. */
const MOST_MS = 100_000;

export const HEAD = { version: '0.0.0', scenarioHash: 'ab'.repeat(32), draft: false };

export interface OpenPage {
  readonly page: Page;
  /** What it fetched beside itself, and what its console says of errors and warnings. */
  readonly complaints: string[];
}

export async function openBench(
  browser: Browser,
  design: Design,
  { head = HEAD, ...options }: BrowserContextOptions & { readonly head?: Provenance } = {},
): Promise<OpenPage> {
  const file = join(temporaryFolder(), 'bench.html');
  writeFileSync(file, benchPage(design, head, benchTemplate(), PLAIN_ORIENTATION));
  const context = await browser.newContext({ offline: true, acceptDownloads: true, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(MOST_MS);
  const complaints: string[] = [];
  const own = pathToFileURL(file).href;
  page.on('request', (request) => {
    if (request.url() !== own && !/^(data|blob):/.test(request.url())) complaints.push(request.url());
  });
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error.stack)));
  await page.goto(own);
  return { page, complaints };
}
