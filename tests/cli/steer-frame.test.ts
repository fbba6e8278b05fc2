/** `steer --frame`: the moves from a frame are those from its readings file; a reading by hand takes the place of one from the frame, and is said to. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { png } from '../reading/frames/frame-bytes.ts';
import { designOf, greyOf, mirror } from './support/frames.ts';
import { datumlight, example, folder } from './support/run.ts';

let dir: string;
let frame: string;
const VIEW = ['--view', 'interferometer'];
beforeAll(() => {
  dir = folder();
  frame = join(dir, 'frame.png');
  writeFileSync(frame, png(greyOf(designOf(mirror())), 8));
});
const readingOf = (
  report: { references: { readings: { name: string; fringes: number }[] }[] },
  patch: string,
): number =>
  report.references.flatMap(({ readings }) => readings).find(({ name }) => name.startsWith(patch))!.fringes;

test('the moves are those of the readings file that read writes', async () => {
  const out = join(dir, 'readings.yml');
  expect((await datumlight(['read', mirror(), frame, '--out', out, ...VIEW])).code).toBe(0);
  const [direct, filed] = await Promise.all(
    [
      ['--frame', frame],
      ['--readings', out],
    ].map(async (source) => {
      const { code, stdout } = await datumlight(['steer', mirror(), ...source, ...VIEW, '--json']);
      expect(code).toBe(0);
      return JSON.parse(stdout);
    }),
  );
  expect(direct.readings).toBe(frame);
  expect(direct.frames.patches).toHaveLength(9);
  for (const [k, { id, move_um }] of direct.references.entries()) {
    const other = filed.references[k];
    expect(id).toBe(other.id);
    // The file rounds to 1e-5 of a fringe; a fringe is under a millimetre.
    for (const axis of ['x', 'y', 'z'])
      expect(Math.abs(move_um[axis] - other.move_um[axis])).toBeLessThan(0.02);
  }
});

test('a reading by hand overrides the frame’s, in words', async () => {
  const hand = join(dir, 'hand.yml');
  writeFileSync(hand, 'readings:\n  - {patch: west-rim, fringes: 0.75, uncertainty: 0.2}\n');
  const { stdout } = await datumlight([
    'steer',
    mirror(),
    '--frame',
    frame,
    '--readings',
    hand,
    ...VIEW,
    '--json',
  ]);
  const report = JSON.parse(stdout);
  expect(readingOf(report, 'west-rim')).toBe(0.75);
  expect(readingOf(report, 'north-rim')).not.toBe(0.75);
  const words = 'patch west-rim was read by hand: that reading is used, not the one from the frame';
  expect(report.frames.findings).toMatchObject([{ rule: 'hand-reading', severity: 'note', message: words }]);
  const { stderr, stdout: told } = await datumlight([
    'steer',
    mirror(),
    '--frame',
    frame,
    '--readings',
    hand,
    ...VIEW,
  ]);
  expect(stderr).toContain(words);
  expect(told).toMatch(/^9 readings\./m);
});

test('the example’s frame gives back the displacement of its mirror', async () => {
  const mirror = example('steer-mirror-on-stage');
  const { code, stdout } = await datumlight([
    'steer',
    mirror,
    '--frame',
    mirror.replace('.yaml', '.frame.png'),
    '--json',
  ]);
  expect(code).toBe(0);
  const { part } = JSON.parse(stdout);
  // As the head of the example's readings states it; µm and µrad. Beside the readings' own uncertainty stands what 8 bits hide.
  const made = { x: 80, y: -60, z: 100, rx: 200, ry: -150, rz: 250 };
  const move = { ...part.move_um, ...part.move_urad };
  for (const [degree, value] of Object.entries(made))
    expect(Math.abs(move[degree] + value), degree).toBeLessThan(4 * part.sigma[degree] + 0.2);
});

test('a session keeps a round of frames', async () => {
  const session = join(dir, 'session.yml');
  const asked = ['steer', mirror(), '--session', session];
  expect((await datumlight([...asked, '--frame', frame, ...VIEW])).code).toBe(0);
  expect((await datumlight(asked)).stdout).toMatch(/^9 readings\./m);
});

test.each([
  ['a frame that is none', ['--frame', mirror()], /is no frame/],
  ['a frame in which nothing is read', ['--frame', 'black.pgm'], /the frame is dark/],
  ['a template', ['--frame', 'black.pgm', '--template'], /cannot be used with option/],
  [
    'one standard input for two',
    ['--frame', '-', '--readings', '-'],
    /standard input holds one of the inputs only/,
  ],
])('%s: exit 2', async (_, args, words) => {
  const black = join(dir, 'black.pgm');
  writeFileSync(black, `P2 300 300 255\n${'0 '.repeat(90_000)}`);
  const named = args.map((word) => (word === 'black.pgm' ? black : word));
  const { code, stderr } = await datumlight(['steer', mirror(), ...named]);
  expect(code).toBe(2);
  expect(stderr).toMatch(words);
});

test('readings by hand alone are enough where the frame shows nothing', async () => {
  const [black, hand] = [join(dir, 'black.pgm'), join(dir, 'rim.yml')];
  writeFileSync(black, `P2 300 300 255\n${'0 '.repeat(90_000)}`);
  writeFileSync(hand, 'readings:\n  - {patch: west-rim, fringes: 0.75}\n');
  const { code, stdout, stderr } = await datumlight([
    'steer',
    mirror(),
    '--frame',
    black,
    '--readings',
    hand,
  ]);
  expect(code).toBe(0);
  expect(stdout).toMatch(/^1 reading\./m);
  expect(stderr).toMatch(/the frame is dark.*\[warning unread-patch\]/);
});
