/**
 * `schemas/read.schema.json` describes every document of `read --json`, and what `steer --frame --json` adds: of a frame that is read whole or in
 * part, of a phase map, of two readings that one frame shows alike, of nothing at all. What it does not describe is not in the documents.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, expect, test } from 'vitest';
import type { FrameFault } from '../../src/metrology/frame/frame-reading.ts';
import { png } from '../reading/frames/frame-bytes.ts';
import { balls, designOf, greyOf, mirror, SIDE } from './support/frames.ts';
import { datumlight, folder } from './support/run.ts';

type Node = Readonly<Record<string, unknown>>;
const shipped = (name: string): Node => JSON.parse(readFileSync(`schemas/${name}.schema.json`, 'utf8'));
const schema = shipped('read');
const ajv = new Ajv2020.default({ strict: true, strictRequired: false, allowUnionTypes: true })
  .addSchema(shipped('report'))
  .addSchema(schema);
const whole = ajv.getSchema(`${schema.$id}`)!;
const added = ajv.getSchema(`${schema.$id}#/$defs/frames`)!;

let dir: string;
const at = (name: string): string => join(dir, name);
/** The document, as it is checked, and the code that the command ends with. */
async function documentOf(...args: readonly string[]) {
  const { code, stdout } = await datumlight([...args, '--json']);
  return { code, document: JSON.parse(stdout) };
}

beforeAll(() => {
  dir = folder();
  const grey = greyOf(designOf(mirror()));
  writeFileSync(at('whole.png'), png(grey, 8));
  // Its right half: the patches there are dark, one on the edge is cut.
  const samples = grey.samples.map((value, k) => (k % SIDE < SIDE / 2 ? value : 0));
  writeFileSync(at('half.png'), png({ ...grey, samples }, 8));
  const part = { translation: [0.0015, 0.001, 0], rotation: [0, 0, 0] } as const;
  writeFileSync(at('balls.png'), png(greyOf(designOf(balls()), { part }), 8));
  writeFileSync(at('black.png'), png({ ...grey, samples: grey.samples.map(() => 0) }, 8));
  // A plane over the whole of the map.
  const row = Array.from({ length: 60 }, (_, k) => (k / 30).toFixed(3)).join(',');
  writeFileSync(at('map.csv'), `unit: waves\n${Array.from({ length: 60 }, () => row).join('\n')}\n`);
});

test.each([
  ['a frame of which every patch is read', ['read', mirror(), 'whole.png', '--out', 'out.yml'], 0],
  ['a frame whose half is dark', ['read', mirror(), 'half.png', '--view', 'interferometer'], 0],
  ['two readings that one frame shows alike', ['read', balls(), 'balls.png', '--overlay', 'fitted.svg'], 0],
  ['a phase map', ['read', balls(), 'map.csv'], undefined],
  ['a dark frame', ['read', mirror(), 'black.png'], 2],
  ['a frame of another hologram', ['read', balls(), 'whole.png'], 2],
])('read --json of %s', async (_, args, ends) => {
  const { code, document } = await documentOf(
    ...args.map((word) => (/^[a-z]+\.(?!yaml)/.test(word) ? at(word) : word)),
  );
  whole(document);
  expect(whole.errors ?? []).toEqual([]);
  if (ends !== undefined) expect(code).toBe(ends);
  expect(document.format).toBe(code === 0 ? 'datumlight-read/1' : undefined);
});

test('steer --frame --json adds it, of a dark frame beside readings by hand without a camera, and with what is wrong with the frame', async () => {
  writeFileSync(at('hand.yml'), 'readings:\n  - {patch: west-rim, fringes: 0.75}\n');
  for (const frame of ['whole.png', 'half.png', 'black.png']) {
    const { code, document } = await documentOf(
      'steer',
      mirror(),
      '--frame',
      at(frame),
      '--readings',
      at('hand.yml'),
    );
    expect(code, frame).toBe(0);
    added(document.frames);
    expect(added.errors ?? [], frame).toEqual([]);
    expect(document.frames.camera === null, frame).toBe(frame === 'black.png');
    if (frame === 'black.png')
      expect(document.frames.findings).toMatchObject([{ rule: 'unread-patch', severity: 'warning' }]);
  }
});

test('the schema refuses a document without one of its keys, with a key of its own, or with a fault that there is not', async () => {
  const { document } = await documentOf('read', mirror(), at('half.png'));
  expect(whole(document)).toBe(true);
  for (const key of Object.keys(document)) {
    const { [key]: _, ...rest } = document;
    expect(whole(rest), key).toBe(false);
  }
  expect(whole({ ...document, other: 1 })).toBe(false);
  const [first, ...patches] = document.patches;
  for (const wrong of [
    { quality: 1.01 },
    { values: [] },
    { faults: [{ fault: 'none', message: '', remedy: '' }] },
    { sigma: 1 },
  ])
    expect(whole({ ...document, patches: [{ ...first, ...wrong }, ...patches] }), JSON.stringify(wrong)).toBe(
      false,
    );
});

test('it names every fault of a patch, and says what each key means', () => {
  const faults: Readonly<Record<FrameFault, true>> = {
    ...{ outside: true, dark: true, saturated: true, 'no-fringes': true },
    ...{ 'washed-out': true, moire: true, blurred: true, misfit: true },
  };
  const silent: string[] = [];
  const seen = new Map<string, Node>();
  const visit = (node: unknown, path: string): void => {
    if (typeof node !== 'object' || node === null) return;
    for (const [key, value] of Object.entries(node)) {
      if (key === 'properties')
        for (const [name, one] of Object.entries(value as Readonly<Record<string, Node>>)) {
          seen.set(name, one);
          const target =
            typeof one.$ref === 'string'
              ? (schema.$defs as Record<string, Node>)[one.$ref.split('/').at(-1)!]
              : one;
          // Where a key is one of two, each says it.
          if (target?.description === undefined && one.anyOf === undefined) silent.push(`${path}/${name}`);
        }
      visit(value, `${path}/${key}`);
    }
  };
  visit(schema, '');
  expect(silent).toEqual([]);
  expect(seen.get('fault')?.enum).toEqual(Object.keys(faults));
});
