/**
 * A reading by hand always takes the place of the frame's, whole: with `--below-bias`, of a phase map in either unit, in a session, of a sign that it
 * leaves open, and of a patch that the frame does not show. Readings of the other patches are those of `read`.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { parse } from 'yaml';
import { png } from '../reading/frames/frame-bytes.ts';
import { balls, designOf, greyOf, SIDE } from './support/frames.ts';
import { datumlight, folder } from './support/run.ts';

/** Of its patch `top` one frame shows too little to be read. */
const PART = { translation: [0.0015, 0.001, 0], rotation: [0, 0, 0] } as const;
const VIEW = ['--view', 'interferometer'];
const LEFT = [0.25, -0.5];

let dir: string;
const at = (name: string): string => join(dir, name);
const byHand = (name: string, ...entries: readonly string[]): string => {
  writeFileSync(at(name), `readings:\n${entries.map((one) => `  - ${one}\n`).join('')}`);
  return at(name);
};
beforeAll(() => {
  dir = folder();
  writeFileSync(at('balls.png'), png(greyOf(designOf(balls()), { part: PART }), 8));
  byHand('left.yml', `{patch: left, fringes: [${LEFT.join(', ')}]}`);
});

interface Reference {
  readonly id: string;
  readonly move_um: Readonly<Record<'x' | 'y' | 'z', number>> | null;
  readonly candidates: readonly unknown[];
  readonly readings: readonly { readonly fringes: number }[];
}
async function steered(...args: readonly string[]) {
  const { code, stdout } = await datumlight(['steer', balls(), ...args, '--json']);
  expect(code, stdout).toBe(0);
  const report = JSON.parse(stdout);
  const of = (id: string): Reference => report.references.find((one: Reference) => one.id === id);
  const fringesOf = (id: string): readonly number[] => of(id).readings.map(({ fringes }) => fringes);
  const said: readonly string[] = report.frames.findings.map(
    ({ rule, message }: { rule: string; message: string }) => `${rule}: ${message}`,
  );
  return { report, of, fringesOf, said };
}
async function readOf(id: string, ...args: readonly string[]): Promise<readonly number[]> {
  const { stdout } = await datumlight(['read', balls(), ...args, '--json']);
  const { patches } = JSON.parse(stdout);
  return patches
    .find((one: { id: string }) => one.id === id)
    .values.map(({ fringes }: { fringes: number }) => fringes);
}
const NOTE = 'hand-reading: patch left was read by hand: that reading is used, not the one from the frame';

test('with --below-bias, or with two readings left open without: by hand what it says, the others as read', async () => {
  const hand = byHand(
    'two.yml',
    `{patch: left, fringes: [${LEFT.join(', ')}]}`,
    '{patch: top, fringes: [0.1, 0.2]}',
  );
  const asked = ['--frame', at('balls.png'), '--readings', hand, ...VIEW];
  for (const below of [['--below-bias'], []]) {
    const { of, fringesOf, said } = await steered(...asked, ...below);
    expect(fringesOf('left')).toEqual(LEFT);
    expect(fringesOf('top')).toEqual([0.1, 0.2]);
    expect(of('left').candidates).toEqual([]);
    // Nothing is said of a patch that the frame does not show and the hand has read.
    expect(said).toEqual([NOTE]);
    expect(of('right').candidates).toHaveLength(below.length === 0 ? 2 : 0);
    if (below.length > 0)
      expect(fringesOf('right')).toEqual(await readOf('right', at('balls.png'), ...VIEW, ...below));
  }
});

test('a sign that is open by hand stays open, though the frame knows it', async () => {
  const hand = byHand('open.yml', `{patch: left, fringes: [${LEFT.join(', ')}], sign: unknown}`);
  const { of, fringesOf } = await steered(
    '--frame',
    at('balls.png'),
    '--below-bias',
    '--readings',
    hand,
    ...VIEW,
  );
  expect(fringesOf('left')).toEqual(LEFT);
  expect(of('left').candidates).toHaveLength(2);
  expect(of('right').candidates).toEqual([]);
});

test('of a phase map, and the moves are the same whichever unit its numbers have', async () => {
  // Half a fringe across each patch.
  const moves = [];
  for (const [unit, scale] of [
    ['waves', 1],
    ['rad', 2 * Math.PI],
    ['nm', 632.8],
  ] as const) {
    const row = Array.from({ length: SIDE }, (_, column) => (scale * 0.02 * column).toFixed(6)).join(',');
    writeFileSync(at('map.csv'), `${row}\n`.repeat(SIDE));
    const asked = ['--frame', at('map.csv'), '--unit', unit, '--steps', 'longer', ...VIEW];
    const { report, of, fringesOf, said } = await steered(...asked, '--readings', at('left.yml'));
    expect(fringesOf('left')).toEqual(LEFT);
    expect(fringesOf('right')).toHaveLength(3);
    expect(said).toContain(NOTE);
    expect(report.frames.frames[0].holds).toBe('phase');
    moves.push(['top', 'right'].flatMap((id) => Object.values(of(id).move_um!)));
  }
  // What six decimals of a wave leave.
  for (const [k, um] of moves[0]!.entries()) for (const other of moves) expect(other[k]).toBeCloseTo(um, 3);
});

test('in a session the round holds the reading by hand, each patch once', async () => {
  const session = at('session.yml');
  const asked = ['--frame', at('balls.png'), '--below-bias', '--readings', at('left.yml'), ...VIEW];
  await steered('--session', session, ...asked);
  const { readings } = parse(readFileSync(session, 'utf8')).rounds[0];
  expect(readings.map(({ patch }: { patch: string }) => patch).sort()).toEqual(['left', 'right']);
  expect(readings.find(({ patch }: { patch: string }) => patch === 'left').fringes).toEqual(LEFT);
});

test('the camera that a readings file states is the frame’s, and how a reading is seen is by it', async () => {
  const turned = { view: 'part', turned: 180, mirrored: false } as const;
  writeFileSync(at('turned.png'), png(greyOf(designOf(balls()), { part: PART }, turned), 8));
  const seen = 'readings:\n  - {patch: left, fringes: 0.5, toward: 3}\n';
  writeFileSync(at('turned.yml'), `camera: {view: part, turned: 180}\n${seen}`);
  const { report, fringesOf } = await steered(
    '--frame',
    at('turned.png'),
    '--below-bias',
    '--readings',
    at('turned.yml'),
  );
  expect(report.frames.camera).toMatchObject({ ...turned, stated: true });
  // Seen from the part and turned by half a turn, 3 o'clock is −x, which the first sense runs along.
  expect(fringesOf('left')[0]).toBeCloseTo(-0.5, 2);
  expect(fringesOf('right')).toEqual(
    await readOf('right', at('turned.png'), '--below-bias', '--view', 'part', '--turned', '180'),
  );
});
