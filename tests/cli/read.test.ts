/**
 * `read` as a user runs it: frames of a bench whose displacement is known become the readings from which `steer` finds it again, in every form
 * of file and whichever way the camera is turned; what cannot be read is said, with what to do.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { decode } from 'fast-png';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { TURNS } from '../../src/scenario/camera-orientation.ts';
import { npy, pgm, png, tiff } from '../reading/frames/frame-bytes.ts';
import { balls, designOf, greyOf, mirror, OFF, SIDE } from './support/frames.ts';
import { faultsOfForm } from './support/fuzz-forms.ts';
import { datumlight, folder } from './support/run.ts';

const design = designOf(mirror());
let dir: string;
let frame: string;
const at = (name: string): string => join(dir, name);

interface Row {
  readonly id: string;
  readonly number: number;
  readonly sure: boolean;
  readonly signKnown: boolean;
  readonly values: readonly { readonly fringes: number; readonly uncertainty_fringes: number }[];
}
async function documentOf(...args: readonly string[]) {
  const { code, stdout, stderr } = await datumlight(['read', mirror(), ...args, '--json']);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  const document = JSON.parse(stdout);
  expect(faultsOfForm('read', false, document)).toEqual([]);
  return document;
}
const patchesOf = async (...args: readonly string[]): Promise<readonly Row[]> =>
  (await documentOf(...args)).patches;

/** Two pictures of one bench: as far apart as their noise, four standard uncertainties of the difference. */
function expectAlike(one: readonly Row[], other: readonly Row[]): void {
  expect(one.map(({ id }) => id)).toEqual(other.map(({ id }) => id));
  for (const [k, { id, values, sure, signKnown }] of one.entries()) {
    expect([id, sure, signKnown]).toEqual([id, true, true]);
    for (const [n, { fringes, uncertainty_fringes }] of values.entries())
      expect(Math.abs(fringes - other[k]!.values[n]!.fringes), id).toBeLessThan(
        6 * uncertainty_fringes + 1e-3,
      );
  }
}

beforeAll(() => {
  dir = folder();
  frame = at('frame.png');
  writeFileSync(frame, png(greyOf(design), 8));
});

test('the readings of a frame are those from which steer finds where the references stand', async () => {
  const out = at('readings.yml');
  const { code, stdout, stderr } = await datumlight(['read', mirror(), frame, '--out', out]);
  expect(code).toBe(0);
  expect(stdout).toMatch(/^.*frame\.png: 8-bit PNG, 360 × 360 pixels$/m);
  expect(stdout).toMatch(/^ {2}camera {2}seen from the interferometer: x to the left, y up/m);
  expect(stdout).toMatch(/^ {2}no\. +patch +fringes +visibility +quality$/m);
  expect(stdout).toMatch(/^9 of 9 patches read$/m);
  expect(stderr).toContain(`wrote ${out}`);
  const text = readFileSync(out, 'utf8');
  expect(text).toMatch(
    /^format: datumlight-readings\/1\ncamera: \{view: interferometer, turned: 0, mirrored: false\}$/m,
  );
  expect(parse(text).readings).toHaveLength(9);
  const steered = await datumlight(['steer', mirror(), '--readings', out, '--json']);
  expect(steered.code).toBe(0);
  for (const { id, move_um, sigma_um } of JSON.parse(steered.stdout).references) {
    const [x, y, z] = OFF.references!.get(id)!;
    for (const [axis, mm] of Object.entries({ x, y, z }))
      expect(Math.abs(move_um[axis] + 1000 * mm), `${id} ${axis}`).toBeLessThan(4 * sigma_um[axis] + 0.3);
  }
});

test('the same from every form of file, and from several frames', async () => {
  const grey = greyOf(design);
  const { width, height, samples } = grey;
  const sixteen = { ...grey, samples: samples.map((value) => 257 * value) };
  const head = `{'descr': '|u1', 'fortran_order': False, 'shape': (${height}, ${width}), }`;
  const fractions = Array.from({ length: height }, (_, row) =>
    samples
      .slice(row * width, (row + 1) * width)
      .map((value) => (value / 255).toFixed(4))
      .join(';'),
  );
  const plain = await patchesOf(frame);
  for (const [name, bytes, ...options] of [
    ['a.tif', tiff([sixteen], { bits: 16 })],
    ['two-pages.tif', tiff([grey, grey], { bits: 8 })],
    ['a.pgm', pgm(grey, 255)],
    // Known by their content.
    ['wrong-ending.png', npy(head, Uint8Array.from(samples))],
    ['a.csv', `unit: intensity\n${fractions.join('\n')}\n`],
  ] as const) {
    writeFileSync(at(name), bytes);
    expectAlike(await patchesOf(at(name), ...options), plain);
  }
  const stdin = await datumlight(['read', mirror(), '-', '--json'], { input: readFileSync(frame) });
  expectAlike(JSON.parse(stdin.stdout).patches, plain);
});

test('a camera turned any way: the same readings, and the readings file says how it is turned', async () => {
  const plain = await patchesOf(frame);
  for (const [k, turned] of TURNS.entries()) {
    const mirrored = k % 2 === 0;
    const orientation = { view: 'interferometer', turned, mirrored } as const;
    const bench = at('bench.yml');
    writeFileSync(bench, `camera: {turned: ${turned}, mirrored: ${mirrored}}\n`);
    writeFileSync(at('turned.png'), png(greyOf(design, OFF, orientation), 8));
    const out = at(`turned-${turned}.yml`);
    const { camera, patches } = await documentOf(at('turned.png'), '--bench', bench, '--out', out);
    expect(camera).toMatchObject({ ...orientation, stated: true });
    expectAlike(patches, plain);
    expect(parse(readFileSync(out, 'utf8')).camera).toEqual(orientation);
  }
});

test('a frame cut out of the camera’s: the bench file says where the beam stands in it', async () => {
  const { width, samples } = greyOf(design);
  // Without its first 20 columns and 8 rows, and 22 of the last rows.
  const [left, top, columns, rows] = [20, 8, width - 20, width - 30];
  const cut = Array.from(
    { length: columns * rows },
    (_, k) => samples[(top + Math.floor(k / columns)) * width + left + (k % columns)]!,
  );
  writeFileSync(at('cut.png'), png({ width: columns, height: rows, samples: cut }, 8));
  const middle = (width - 1) / 2;
  const bench = at('place.yml');
  writeFileSync(
    bench,
    `camera: {turned: 0, centre: [${middle - left}, ${middle - top}], pixelsPerMm: ${width / design.beam.cameraDiameter}}\n`,
  );
  expectAlike(await patchesOf(at('cut.png'), '--bench', bench), await patchesOf(frame));
});

describe('what is open is said', () => {
  test('an orientation that the outlines do not tell: as a warning, in the table and in the readings, with what to do', async () => {
    const out = at('open.yml');
    const { code, stdout, stderr } = await datumlight(['read', mirror(), frame, '--out', out]);
    expect(code).toBe(0);
    expect(stderr).toMatch(
      /2 of the camera’s eight orientations.*cover patch north-rim and see what goes dark.*\[warning open-orientation\]/,
    );
    expect(stdout).toContain('(assumed: the outlines do not tell)');
    expect(readFileSync(out, 'utf8')).toContain('# Settle how the camera is turned before you move anything');
    const stated = await datumlight(['read', mirror(), frame, '--view', 'interferometer']);
    expect(stated.stderr).toBe('');
    expect(stated.stdout).toContain('(as stated)');
  });

  test('a patch that is dark: the others are read, and it stands in the readings as a comment with the reason', async () => {
    const grey = greyOf(design);
    // Patch 1, north-rim, to the right of the upper middle in this view.
    const [x, y] = design.patches[0]!.centre;
    const perMm = grey.width / design.beam.cameraDiameter;
    const [column, row] = [grey.width / 2 - x * perMm, grey.height / 2 - y * perMm];
    const samples = grey.samples.map((value, k) =>
      Math.hypot((k % grey.width) - column, Math.floor(k / grey.width) - row) < 7.2 * perMm ? 0 : value,
    );
    writeFileSync(at('dark.png'), png({ ...grey, samples }, 8));
    const out = at('dark.yml');
    const { code, stdout, stderr } = await datumlight(['read', mirror(), at('dark.png'), '--out', out]);
    expect(code).toBe(0);
    expect(stdout).toMatch(
      /^ {2}1 +north-rim +not read .*not given to steer: little or no light comes back$/m,
    );
    expect(stderr).toMatch(
      /converging-retroreflectors\.yaml:\d+:\d+: patch north-rim is not read: little or no light comes back; check that nothing blocks the light.*\[warning unread-patch\]/,
    );
    const text = readFileSync(out, 'utf8');
    expect(text).toMatch(
      /^ {2}# 1 {2}north-rim: quality 0\.00; not given to steer: little or no light comes back/m,
    );
    expect(parse(text).readings.map(({ patch }: { patch: string }) => patch)).not.toContain('north-rim');
  });

  test('two readings of balls that one frame shows alike: both go to steer, which leaves them open alone; `--below-bias` settles them', async () => {
    // Under a fringe in all, by a bias of one.
    const part = { translation: [0.0015, 0.001, 0], rotation: [0, 0, 0] } as const;
    writeFileSync(at('balls.png'), png(greyOf(designOf(balls()), { part }), 8));
    const out = at('pairs.yml');
    const open = await datumlight(['read', balls(), at('balls.png'), '--out', out]);
    expect(open.code).toBe(0);
    expect(open.stdout).toMatch(
      /^ {2}3 +right +tilt .*; or tilt .*the picture shows both readings alike.*frames in phase steps \(`--steps`\).*say `--below-bias`/m,
    );
    const pairs = parse(readFileSync(out, 'utf8')).readings;
    expect(pairs.map(({ or, sign }: { or: number[]; sign?: string }) => [or.length, sign])).toEqual(
      pairs.map(() => [3, undefined]),
    );
    for (const source of [
      ['--readings', out],
      ['--frame', at('balls.png')],
    ]) {
      const steered = await datumlight(['steer', balls(), ...source]);
      expect(steered.stdout).toMatch(/if left is the first of its two readings and .*right is/);
      expect(steered.stdout).toMatch(
        /left then shows [+−0].* if it was the first of its two readings, .* if it was the second/,
      );
    }
    const settled = await datumlight(['read', balls(), at('balls.png'), '--below-bias', '--out', '-']);
    expect(settled.code).toBe(0);
    const { readings } = parse(settled.stdout);
    expect(readings.length).toBeGreaterThan(0);
    for (const reading of readings) {
      expect(reading).not.toHaveProperty('sign');
      expect(reading).not.toHaveProperty('or');
    }
  });
});

describe('the overlay', () => {
  test('as PNG: as many pixels as the frame, the dark fringes drawn where the frame is dark', async () => {
    const overlay = at('fitted.png');
    await documentOf(frame, '--overlay', overlay);
    const { width, height, channels, data } = decode(readFileSync(overlay));
    // Enlarged to at least 800 pixels: lines and numbers need some.
    expect([width, height, channels]).toEqual([3 * SIDE, 3 * SIDE, 3]);
    const { samples } = greyOf(design);
    const seen = (k: number): number =>
      samples[Math.floor(Math.floor(k / width) / 3) * SIDE + Math.floor((k % width) / 3)]!;
    const [dark, lit] = [
      [0, 0],
      [0, 0],
    ] as [number[], number[]];
    for (let k = 0; k < width * height; k++) {
      const [red, green, blue] = data.subarray(3 * k, 3 * k + 3);
      // The colour of the fitted lines: yellow, red and green without blue.
      if (red === 255 && green! > 200 && blue === 0) {
        dark[0]! += seen(k);
        dark[1]!++;
      } else if (seen(k) > 40) {
        lit[0]! += seen(k);
        lit[1]!++;
      }
    }
    expect(dark[1]).toBeGreaterThan(500);
    expect(dark[0]! / dark[1]!).toBeLessThan(0.5 * (lit[0]! / lit[1]!));
  });

  test('as SVG: the frame within it, and each patch’s number with a mark', async () => {
    const overlay = at('fitted.svg');
    await documentOf(frame, '--overlay', overlay);
    const svg = readFileSync(overlay, 'utf8');
    expect([...svg.matchAll(/>(\d+)✓<\/text>/g)].map(([, number]) => number)).toEqual([...'123456789']);
    const [, image] = /href="data:image\/png;base64,([^"]+)"/.exec(svg)!;
    expect(decode(Buffer.from(image!, 'base64'))).toMatchObject({ width: SIDE, height: SIDE, channels: 1 });
  });

  test('neither is put over a file of somebody else’s, nor readings over ones that were changed by hand', async () => {
    const out = at('mine.yml');
    await documentOf(frame, '--out', out);
    await documentOf(frame, '--out', out);
    writeFileSync(out, `${readFileSync(out, 'utf8')}  - {measurement: by-hand, deviation_um: 3}\n`);
    const changed = await datumlight(['read', mirror(), frame, '--out', out]);
    expect(changed.code).toBe(2);
    expect(changed.stderr).toMatch(/already exists and was not written by datumlight, or was changed since/);
    writeFileSync(at('photo.png'), png({ width: 1, height: 1, samples: [7] }, 8));
    expect((await datumlight(['read', mirror(), frame, '--overlay', at('photo.png')])).code).toBe(2);
    expect((await datumlight(['read', mirror(), frame, '--overlay', frame])).stderr).toMatch(/is the input/);
  });
});

describe('arguments and files that do not go together: exit 2', () => {
  test.each([
    ['no frame', [], /no frame is given/],
    ['a frame that is not there', ['nowhere.png'], /nowhere\.png: cannot be read/],
    ['a scenario as a frame', [mirror()], /is no frame: neither a PNG/],
    ['frames of two sizes', ['frame.png', 'small.pgm'], /has 4 × 3 pixels, and .*frame\.png has 360 × 360/],
    ['a phase map among frames', ['frame.png', 'map.csv'], /has 2 × 2 pixels|one of them is a phase map/],
    ['two phase maps', ['map.csv', 'map.csv'], /2 frames are given, and one of them is a phase map/],
    ['an overlay of another form', ['frame.png', '--overlay', 'a.jpg'], /neither a \.png nor an \.svg/],
    ['a folder and frames', ['frame.png', '--watch', '.'], /frames and a folder are given/],
    ['a folder that is not there', ['--watch', 'nowhere'], /no folder that can be read/],
    ['a unit for a picture', ['frame.png', '--unit', 'nm'], /--unit: .*is a PNG of whole grey levels/],
    ['readings and a document on one stream', ['frame.png', '--out', '-', '--json'], /cannot hold both/],
  ])('%s', async (_, args, words) => {
    writeFileSync(at('small.pgm'), pgm({ width: 4, height: 3, samples: new Array(12).fill(9) }, 255));
    writeFileSync(at('map.csv'), 'unit: waves\n0,1\n2,3\n');
    const named = args.map((word) => (/^[a-z]+\.(png|csv|pgm|jpg)$|^nowhere$/.test(word) ? at(word) : word));
    const { code, stdout, stderr } = await datumlight(['read', mirror(), ...named]);
    expect(code).toBe(2);
    expect(stdout + stderr).toMatch(words);
  });

  test('as one document with --json', async () => {
    mkdirSync(at('empty'), { recursive: true });
    const { code, stdout } = await datumlight(['read', mirror(), at('empty'), '--json']);
    expect(code).toBe(2);
    expect(faultsOfForm('read', true, JSON.parse(stdout))).toEqual([]);
  });
});
