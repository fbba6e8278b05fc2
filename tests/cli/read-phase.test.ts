/**
 * Phase maps and frames in phase steps: their sign is that of a reading as the README states it, from one plane over each patch written down here
 * by hand. Positive along a sense: the optical path of the return gets shorter from the − edge to the + edge of the patch.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { png, tiff } from '../reading/frames/frame-bytes.ts';
import { balls, SIDE } from './support/frames.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

/** Without a bias: aligned, a patch shows nothing. */
const SCENARIO = scenarioFile(readFileSync(balls(), 'utf8').replaceAll(/\n *bias: .*/g, ''));
/** Fringes along the first sense of each patch, and across it. */
const FRINGES = [2.3, -1.4] as const;
const WAVELENGTH_NM = 632.8;

/** The path of the return over the frame, waves; NaN between the patches. */
let path: Float64Array;
let dir: string;

beforeAll(async () => {
  dir = folder();
  const report = JSON.parse((await datumlight(['check', SCENARIO, '--json'])).stdout);
  const pitch = report.camera.diameter_mm / SIDE;
  path = new Float64Array(SIDE * SIDE).fill(Number.NaN);
  for (const { centre, senses } of report.patches) {
    for (let k = 0; k < path.length; k++) {
      // As seen from the interferometer: x to the left, y up.
      const x = ((SIDE - 1) / 2 - (k % SIDE)) * pitch - centre[0];
      const y = ((SIDE - 1) / 2 - Math.floor(k / SIDE)) * pitch - centre[1];
      // A circle of 12 mm.
      if (Math.hypot(x, y) > 6) continue;
      const along = (sense: number): number => {
        const [dx, dy] = senses[sense];
        return (x * dx + y * dy) / Math.hypot(dx, dy) / 12;
      };
      path[k] = 0.3 - FRINGES[0] * along(0) - FRINGES[1] * along(1);
    }
  }
});

const grid = (scale: number): string =>
  Array.from({ length: SIDE }, (_, row) =>
    Array.from(path.subarray(row * SIDE, (row + 1) * SIDE), (one) =>
      Number.isNaN(one) ? '' : (one * scale).toFixed(5),
    ).join(','),
  ).join('\n');

/** The tilts of all patches, read. */
async function tiltsOf(...args: readonly string[]) {
  const { code, stdout, stderr } = await datumlight(['read', SCENARIO, ...args, '--json']);
  expect({ code, stderr }, stdout).toEqual({ code: 0, stderr: '' });
  const { patches } = JSON.parse(stdout);
  expect(patches).toHaveLength(3);
  return patches.map(({ signKnown, values }: { signKnown: boolean; values: { fringes: number }[] }) => ({
    signKnown,
    tilts: [values[0]!.fringes, values[1]!.fringes],
  })) as { signKnown: boolean; tilts: [number, number] }[];
}

function expectTilts(read: Awaited<ReturnType<typeof tiltsOf>>, way: 1 | -1): void {
  for (const { signKnown, tilts } of read) {
    expect(signKnown).toBe(true);
    // To the 3 % by which a patch's fringes are no plane, and its edge no pixel's.
    for (const [k, tilt] of tilts.entries()) expect(Math.abs(tilt - way * FRINGES[k]!)).toBeLessThan(0.08);
  }
}

describe('a phase map', () => {
  test.each([
    ['in waves of the path', 1, ['--unit', 'waves', '--steps', 'longer'], 1],
    ['in waves against the path', -1, ['--unit', 'waves', '--steps', 'shorter'], 1],
    ['of the wrong sign: all readings reversed', -1, ['--unit', 'waves', '--steps', 'longer'], -1],
    ['in radians', 2 * Math.PI, ['--unit', 'rad', '--steps', 'longer'], 1],
    ['in nanometres of path', WAVELENGTH_NM, ['--unit', 'nm', '--steps', 'longer'], 1],
  ] as const)('%s', async (name, scale, options, way) => {
    const file = join(dir, `${name.replaceAll(/\W/g, '-')}.csv`);
    writeFileSync(file, grid(scale));
    expectTilts(await tiltsOf(file, ...options), way);
  });

  test('of which nothing says whether it is of the path: no sign is known', async () => {
    const file = join(dir, 'unsaid.csv');
    writeFileSync(file, `# unit: waves\n${grid(1)}`);
    for (const { signKnown } of await tiltsOf(file)) expect(signKnown).toBe(false);
  });
});

describe('frames in steps of a quarter', () => {
  const stepped = (way: 1 | -1) =>
    [0, 1, 2, 3].map((step) => ({
      width: SIDE,
      height: SIDE,
      samples: Array.from(path, (one) => {
        const level = 0.5 + 0.4 * Math.cos(2 * Math.PI * (one + (way * step) / 4));
        return Number.isNaN(one) ? 0 : Math.round(255 * level);
      }),
    }));

  test.each([
    ['the path getting longer', 1, 'longer', 1],
    ['the path getting shorter', -1, 'shorter', 1],
    ['the direction taken for the other: all readings reversed', 1, 'shorter', -1],
  ] as const)('%s', async (name, way, steps, sign) => {
    const files = stepped(way).map((grey, k) => {
      const file = join(dir, `${name.replaceAll(/\W/g, '-')}-${k}.png`);
      writeFileSync(file, png(grey, 8));
      return file;
    });
    expectTilts(await tiltsOf(...files, '--steps', steps), sign);
  });

  test('as pages of one file; of an unknown direction, the sign is open', async () => {
    const file = join(dir, 'steps.tif');
    writeFileSync(file, tiff(stepped(1), { bits: 8 }));
    expectTilts(await tiltsOf(file, '--steps', 'longer'), 1);
    for (const { signKnown } of await tiltsOf(file, '--steps', 'unknown')) expect(signKnown).toBe(false);
  });
});
