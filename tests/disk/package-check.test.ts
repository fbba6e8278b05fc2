/** A package is refused when a byte of any of its files has changed, its manifest among them; a checkout that converts line ends is none. */
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { checkedPackage } from '../../src/disk/package-check.ts';
import { shippedFiles } from '../../src/disk/shipped-files.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { findingsOf } from '../../src/rules/one-cause.ts';
import { jsonText } from '../../src/writing/json.ts';
import { sha256 } from '../../src/writing/manifest.ts';
import { packageFiles } from '../../src/writing/package/package.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';
import '../machine/patience.ts';

const text = readFileSync('examples/diverging-balls.yaml', 'utf8');
const scenario = { sha256: sha256(text), named: new Map<string, string>() };
let dir: string;
let files: ReadonlyMap<string, Uint8Array>;

beforeAll(() => {
  const read = readScenario(text, 's.yaml');
  const { design } = designScenario(read.scenario!) as Extract<
    ReturnType<typeof designScenario>,
    { design: unknown }
  >;
  const head = { version: '1', scenarioHash: scenario.sha256, draft: false };
  const made = packageFiles(design, findingsOf(design), head, shippedFiles()).files;
  files = new Map([...made].map(([name, content]) => [name, Buffer.from(content)]));
  dir = temporaryFolder();
  for (const [name, content] of files) writeFileSync(join(dir, name), content);
});

const codes = (one = scenario): readonly string[] => {
  const checked = checkedPackage(dir, one);
  return 'findings' in checked ? checked.findings.map(({ rule }) => rule) : [];
};
/** With a file's bytes changed, and put back. */
function changed<T>(name: string, change: (bytes: Buffer) => Uint8Array, ask: () => T): T {
  const bytes = files.get(name)!;
  writeFileSync(join(dir, name), change(Buffer.from(bytes)));
  try {
    return ask();
  } finally {
    writeFileSync(join(dir, name), bytes);
  }
}
const flipped = (at: number) => (bytes: Buffer) => {
  bytes[at] = bytes[at]! ^ 1;
  return bytes;
};

test('a package as it was written is taken, and its manifest’s SHA-256 stands for it', () => {
  expect(readdirSync(dir)).toHaveLength(files.size);
  const checked = checkedPackage(dir, scenario);
  expect(checked).toMatchObject({ package: { sha256: sha256(files.get('manifest.json')!) } });
});

test('one bit of any file changed, its last byte gone, or the file gone: refused', () => {
  for (const [name, bytes] of files) {
    if (name === 'manifest.json') continue;
    for (const at of [0, Math.floor(bytes.length / 2), bytes.length - 1])
      expect([name, at, ...changed(name, flipped(at), codes)]).toEqual([name, at, 'changed-package']);
    expect(changed(name, (all) => all.subarray(0, -1), codes)).toEqual(['changed-package']);
    rmSync(join(dir, name));
    expect([name, ...codes()]).toEqual([name, 'changed-package']);
    writeFileSync(join(dir, name), bytes);
  }
});

test('one bit of the manifest changed, anywhere: refused', () => {
  const { length } = files.get('manifest.json')!;
  // Every 23rd byte: keys, hashes, blanks and names among them.
  for (let at = 0; at < length; at += 23)
    expect([at, changed('manifest.json', flipped(at), codes).length]).toEqual([at, 1]);
  const draft = (bytes: Buffer): Uint8Array =>
    Buffer.from(bytes.toString().replace('"draft": false', '"draft": true'));
  expect(changed('manifest.json', draft, codes)).toEqual(['changed-package']);
  const version = (bytes: Buffer): Uint8Array =>
    Buffer.from(bytes.toString().replace('"version": "1"', '"version": "2"'));
  expect(changed('manifest.json', version, codes)).toEqual(['changed-package']);
});

test('a manifest that names a camera for the sheet, which its report does not: refused', () => {
  const turned = (bytes: Buffer): Uint8Array => {
    const sheet = { camera: { view: 'part', turned: 90, mirrored: false } };
    return Buffer.from(jsonText({ ...JSON.parse(bytes.toString()), sheet }));
  };
  expect(changed('manifest.json', turned, codes)).toEqual(['changed-package']);
});

test('another scenario, or another file that the scenario names: refused', () => {
  expect(codes({ ...scenario, sha256: sha256(`${text}\n`) })).toEqual(['other-scenario']);
  expect(codes({ ...scenario, named: new Map([['mesh.stl', sha256('')]]) })).toEqual(['other-scenario']);
});

test('texts whose line ends a checkout made CRLF are as they were written', () => {
  const crlf = (bytes: Buffer): Uint8Array => Buffer.from(bytes.toString().replaceAll('\n', '\r\n'));
  for (const name of ['coefficients.csv', 'report.json', 'manifest.json', 'sheet.html'])
    expect(changed(name, crlf, codes)).toEqual([]);
});

test('a folder without a package of `make`', () => {
  const none = checkedPackage(temporaryFolder(), scenario);
  expect(none).toMatchObject({ findings: [{ rule: 'no-package' }] });
});
