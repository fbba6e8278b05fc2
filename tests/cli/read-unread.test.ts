/**
 * A frame of which nothing, or only a part, can be read: `read` and `steer --frame` end with the same code, 2 where no patch is read, and say what
 * was seen and what the operator is to do. No readings are written then.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { png } from '../reading/frames/frame-bytes.ts';
import { balls, designOf, greyOf, mirror, SIDE } from './support/frames.ts';
import { datumlight, folder } from './support/run.ts';

let dir: string;
const at = (name: string): string => join(dir, name);
beforeAll(() => {
  dir = folder();
  const { samples } = greyOf(designOf(mirror()));
  const put = (
    name: string,
    width: number,
    height: number,
    value: (column: number, row: number) => number,
  ) => {
    const all = Array.from({ length: width * height }, (_, k) => value(k % width, Math.floor(k / width)));
    writeFileSync(at(name), png({ width, height, samples: all }, 8));
  };
  const grey = (column: number, row: number): number => samples[row * SIDE + column]!;
  put('whole.png', SIDE, SIDE, grey);
  put('dark.png', SIDE, SIDE, () => 0);
  put('dim.png', SIDE, SIDE, (column, row) => Math.round(0.03 * grey(column, row)));
  put('white.png', SIDE, SIDE, () => 255);
  put('even.png', SIDE, SIDE, () => 120);
  put('bright.png', SIDE, SIDE, (column, row) => Math.min(255, 12 * grey(column, row)));
  put('small.png', SIDE / 4, SIDE / 4, (column, row) => grey(4 * column, 4 * row));
  put('cut.png', 150, SIDE, grey);
  // Dark to the right of the patches in the middle.
  put('half.png', SIDE, SIDE, (column, row) => (column < SIDE / 2 + 15 ? grey(column, row) : 0));
});

const DARK =
  /the frame is dark; check that nothing blocks the light .*; or expose longer \[error unread-patch\]$/m;
const NOT_FOUND =
  /the outlines of this hologram’s patches were not found in the frame.*; check that the frame shows this hologram, all of it and in focus; or state in a bench file where the beam is: .* \[error unread-patch\]$/m;

test.each([
  ['all dark', mirror(), ['dark.png'], DARK],
  ['too dim to tell', mirror(), ['dim.png'], DARK],
  ['all saturated', mirror(), ['white.png'], /saturated all over; expose for less time, or dim the light/],
  [
    'of one grey',
    mirror(),
    ['even.png'],
    /the same grey all over; check that the camera looks at the hologram/,
  ],
  [
    'whose patches are all saturated',
    mirror(),
    ['bright.png'],
    /bright\.png: no patch can be read: saturated; expose for less time, or dim the light/,
  ],
  ['of another hologram', balls(), ['whole.png'], NOT_FOUND],
  [
    'of another size',
    mirror(),
    ['small.png'],
    /small\.png: .*the frame, which has 90 × 90 pixels \(the scenario has 360 across the beam\)/,
  ],
  ['cut at one side', mirror(), ['cut.png'], NOT_FOUND],
  [
    'of a camera that is turned otherwise than stated',
    mirror(),
    ['whole.png', '--turned', '90'],
    /the picture is read as stated, seen from the interferometer, turned 90° clockwise; its outlines fit one seen from the interferometer; .*\[warning open-orientation\]\n.*no patch can be read with the camera turned as it is stated; check --bench, --view, --turned and --mirrored before you move anything/,
  ],
] as const)(
  'a frame %s: exit 2, what to do, and no readings',
  async (_, scenario, [name, ...options], words) => {
    const out = at('readings.yml');
    const read = await datumlight(['read', scenario, at(name), ...options, '--out', out]);
    const steered = await datumlight(['steer', scenario, '--frame', at(name), ...options]);
    for (const { code, stderr } of [read, steered]) {
      expect(code).toBe(2);
      expect(stderr).toMatch(words);
      // One cause is said once.
      expect(stderr.match(/\[error /g)).toHaveLength(1);
    }
    expect(steered.stdout).toBe('');
    expect(existsSync(out)).toBe(false);
  },
);

test('readings of an earlier frame stay, and are said to be of an earlier one; what was drawn over the frame is named', async () => {
  const [out, overlay] = [at('earlier.yml'), at('fitted.svg')];
  const read = (name: string, ...more: readonly string[]) =>
    datumlight(['read', mirror(), at(name), '--out', out, ...more]);
  expect((await read('whole.png')).code).toBe(0);
  const before = readFileSync(out, 'utf8');
  for (const name of ['bright.png', 'dark.png']) {
    const { code, stderr } = await read(name, '--overlay', overlay);
    expect(code).toBe(2);
    expect(stderr).toContain(`${out} is left as it was, with the readings of an earlier frame`);
    expect(stderr.includes(`wrote ${overlay}`)).toBe(name === 'bright.png');
    expect(readFileSync(out, 'utf8')).toBe(before);
  }
});

test('a frame of which a part is dark: exit 0, and each patch that is not read is named once, with its reason and what to do', async () => {
  const view = ['--view', 'interferometer'];
  const read = await datumlight(['read', mirror(), at('half.png'), ...view]);
  const steered = await datumlight(['steer', mirror(), '--frame', at('half.png'), ...view]);
  expect(read.stdout).toMatch(/^5 of 9 patches read$/m);
  expect(steered.stdout).toMatch(/^5 readings\./m);
  for (const { code, stderr } of [read, steered]) {
    expect(code).toBe(0);
    const said = [
      ...stderr.matchAll(/patch (\S+) is not read: little or no light comes back; check that .*\[warning/g),
    ];
    expect(said.map(([, id]) => id)).toEqual(['north-rim', 'west-rim', 'west-radius', 'east-across']);
    expect(stderr.match(/\[(error|warning) /g)).toHaveLength(4);
  }
});

test('an orientation that is taken because the frame does not tell it is named', async () => {
  const { stderr } = await datumlight(['read', mirror(), at('whole.png')]);
  expect(stderr).toContain(
    'the picture looks the same in 2 of the camera’s eight orientations; it is taken as seen from the interferometer; cover patch north-rim',
  );
});
