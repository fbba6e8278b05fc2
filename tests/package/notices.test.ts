/** The licences of all that is bundled ship with it: dist/THIRD-PARTY-NOTICES.txt, against what a bundler takes and what the packages say. */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { build } from 'esbuild';
import { beforeAll, expect, test } from 'vitest';
// @ts-expect-error: a script of the build, without types
import { benchPage } from '../../.build/bench-page.mjs';
// @ts-expect-error: a script of the build, without types
import { notices, packagesIn } from '../../.build/notices.mjs';
import { temporaryFolder } from '../machine/temporary-folder.ts';

const TEXT = readFileSync('dist/THIRD-PARTY-NOTICES.txt', 'utf8');
const flat = (text: string): string => text.replaceAll(/\s+/g, ' ').trim();

/** Where the package only points to a file. */
const STATED: Record<string, string> = {
  'dejavu-fonts-ttf': 'licence of Bitstream Vera, Arev and DejaVu fonts',
};

let folders: ReadonlySet<string>;
beforeAll(async () => {
  folders = await bundled();
});

/** The folder of the nearest package.json that names a version: another way than by the path's words. */
function packageOf(file: string): string {
  const folder = dirname(file);
  try {
    if (JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')).version) return folder;
  } catch {
    // None here.
  }
  return packageOf(folder);
}

/** What is in the bundle: files whose bytes esbuild kept, those that the compiled validator names, and esbuild's own helpers. */
async function bundled(): Promise<ReadonlySet<string>> {
  const { metafile } = await build({
    entryPoints: ['src/cli/main.ts'],
    bundle: true,
    platform: 'node',
    format: 'cjs',
    metafile: true,
    write: false,
    logLevel: 'error',
    define: { 'import.meta.url': '""' },
  });
  const page = (await benchPage()).metafile as typeof metafile;
  const outputs = [...Object.values(metafile.outputs), ...Object.values(page.outputs)];
  const kept = outputs.flatMap(({ inputs }) =>
    Object.keys(inputs).filter((file) => inputs[file]!.bytesInOutput > 0),
  );
  const validator = readFileSync('src/reading/generated/validate-scenario.js', 'utf8');
  const named = [...validator.matchAll(/"(node_modules\/[^"]+\.js)"/g)].map(([, file]) => file!);
  expect(named.length).toBeGreaterThan(0);
  const helpers = readFileSync('dist/datumlight.cjs', 'utf8').includes('var __commonJS=');
  const files = [...kept, ...named, ...(helpers ? ['node_modules/esbuild/package.json'] : [])];
  // The font is no code: it is copied.
  const font = 'node_modules/dejavu-fonts-ttf';
  return new Set([...files.map(packageOf).filter((folder) => folder !== '.'), font]);
}

test('the notices name each package that is bundled, with its version and licence, and no other', () => {
  const titles = [...folders].map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    return `${name} ${version} (${STATED[name] ?? license})`;
  });
  expect(titles.length).toBeGreaterThan(15);
  const named = [...TEXT.matchAll(/^-+\n(.+ \(.+\))\n-+$/gm)].map(([, title]) => title);
  expect(named).toEqual(titles.sort());
});

test('the notices hold every licence and notice file of a bundled package, whole', () => {
  const said = flat(TEXT);
  const lacking: string[] = [];
  let held = 0;
  for (const folder of folders) {
    for (const file of readdirSync(folder).filter((name) => /licen[cs]e|notice|copying/i.test(name))) {
      if (said.includes(flat(readFileSync(join(folder, file), 'utf8')))) held++;
      else lacking.push(join(folder, file));
    }
  }
  expect(lacking).toEqual([]);
  expect(held).toBeGreaterThan(15);
});

test('a package without a licence file is there with its own statement and the whole text of the licence', () => {
  for (const [name, author, end] of [
    ['bezier-js', 'by Pomax', 'OTHER DEALINGS IN'],
    ['makerjs', 'Copyright (c) Microsoft Corporation', 'END OF TERMS AND CONDITIONS'],
  ]) {
    const [, own = ''] = (TEXT.split(`\n${name} `)[1] ?? '').split(/^-{100}$/m);
    expect(own).toContain(author);
    expect(own).toContain(end);
  }
});

test('the font whose letters the PDFs embed has its licence there', () => {
  expect(TEXT).toContain('Bitstream Vera Fonts Copyright');
});

function madeUp(files: Record<string, string>): string {
  const folder = join(temporaryFolder(), 'node_modules', 'made-up');
  mkdirSync(folder, { recursive: true });
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return folder;
}
const asPackage = (license: unknown): string =>
  JSON.stringify({ name: 'made-up', version: '1.2.3', license });

test.each([
  ['no text', { 'package.json': asPackage('MIT') }, 'made-up@1.2.3 has no licence text'],
  [
    'no licence',
    { 'package.json': asPackage(undefined), LICENSE: 'as you like' },
    'has the licence undefined',
  ],
  [
    'copyleft',
    { 'package.json': asPackage('GPL-3.0-only'), LICENSE: 'GPL' },
    'has the licence "GPL-3.0-only"',
  ],
  ['copyleft in part', { 'package.json': asPackage('MIT AND MPL-2.0'), LICENSE: 'both' }, 'MPL-2.0'],
  ['nobody may', { 'package.json': asPackage('UNLICENSED'), LICENSE: 'mine' }, 'UNLICENSED'],
])('a package that may not be passed on, or not so, stops the build: %s', (_, files, message) => {
  expect(() => notices([madeUp(files)])).toThrow(message);
});

test('a choice of licences is taken where one is permissive, and a NOTICE file is carried', () => {
  const files = {
    'package.json': asPackage('(GPL-2.0 OR MIT)'),
    'LICENCE.md': 'Their text',
    NOTICE: 'Of note',
  };
  const text = notices([madeUp(files)]);
  expect(text).toMatch(/made-up 1\.2\.3 [\s\S]*Their text\n\nOf note/);
});

test('packages are told by the bytes they gave, nested and scoped ones too', () => {
  const inputs = {
    'src/a.ts': { bytesInOutput: 9 },
    'node_modules/plain/lib/x.js': { bytesInOutput: 1 },
    'node_modules/plain/node_modules/@scope/inner/y.js': { bytesInOutput: 2 },
    'node_modules/shaken-off/z.js': { bytesInOutput: 0 },
  };
  expect(packagesIn({ outputs: { 'a.js': { inputs } } })).toEqual([
    'node_modules/plain',
    'node_modules/plain/node_modules/@scope/inner',
  ]);
});
