/**
 * Frames of balls by a formula that shares no code with src/: the way out and back to a ball moved by δ is 2(|P − T − δ| − |P − T|) longer, to
 * first order in the miss (Fermat), and the picture is turned as a whole by camera-seen.ts. What is read is what a fit of that path says,
 * in the camera's eight orientations. Air, no bias. mm; fringes.
 */
import { expect, test } from 'vitest';
import { readPatch } from '../../../src/metrology/frame/read-patch.ts';
import { plainMap } from '../../../src/metrology/location/frame-map.ts';
import type { CameraOrientation } from '../../../src/scenario/camera-orientation.ts';
import { SIXTEEN, seenBy, type Turn } from '../../independent/camera-seen.ts';
import { fitted } from '../../independent/equations.ts';
import '../../machine/patience.ts';
import { designFrom, pointPatch } from '../support/design-from.ts';

const LAMBDA = 632.8e-6;
const [X0, Y0] = [11, -7] as const;
const TARGET = [14, -9, 130] as const;
const MOVE = [0.011, -0.008, 0.35] as const;
const RADIUS = 7;
const SIZE = 90;
const PITCH = 0.17;
/** No noise but levels of grey: a hundredth of a fringe is ten times what is left. */
const NEAR = 0.002;

const design = designFrom({
  references: [{ id: 'b', kind: 'ball', diameter: 12.7, at: TARGET, frame: 'substrate' }],
  patches: [pointPatch('p', 'b', [X0, Y0], 2 * RADIUS)],
});

function wavesAt(x: number, y: number): number {
  const [tx, ty, tz] = TARGET;
  const [dx, dy, dz] = MOVE;
  const longer = Math.hypot(tx + dx - x, ty + dy - y, tz + dz) - Math.hypot(tx - x, ty - y, tz);
  return (2 * longer) / LAMBDA;
}

/** Seen from the interferometer, x to the left and y up. */
const places = Array.from({ length: SIZE }, (_, row) =>
  Array.from({ length: SIZE }, (_, column) => {
    return [X0 - (column - (SIZE - 1) / 2) * PITCH, Y0 + ((SIZE - 1) / 2 - row) * PITCH] as const;
  }),
);
const inPatch = ([x, y]: readonly [number, number]): boolean => Math.hypot(x - X0, y - Y0) < RADIUS;

/** The fall along x made square to the light, along what is square to both, and from the middle to the edge. */
function counts(): number[] {
  const inside = places.flat().filter(inPatch);
  const rows = inside.map(([x, y]) => {
    const [u, v] = [x - X0, y - Y0];
    return [1, u, v, u * u, u * v, v * v];
  });
  const fit = fitted(
    rows,
    inside.map(([x, y]) => wavesAt(x, y)),
  );
  const way = [TARGET[0] - X0, TARGET[1] - Y0, TARGET[2]];
  const [x, y, z] = way.map((part) => part / Math.hypot(...way)) as [number, number, number];
  const size = Math.sqrt(1 - x * x);
  const first = [size, (-x * y) / size, (-x * z) / size] as const;
  const second = [y * first[2] - z * first[1], z * first[0] - x * first[2]] as const;
  // The falls along both add up to the gradient.
  const determinant = first[0] * second[1] - first[1] * second[0];
  const [gx, gy] = [-fit[1]!, -fit[2]!];
  const [a, b] = [
    (gx * second[1] - gy * second[0]) / determinant,
    (first[0] * gy - first[1] * gx) / determinant,
  ];
  const widths = [Math.hypot(first[0], first[1]), Math.hypot(...second)].map((part) => 2 * RADIUS * part);
  const power = (-(fit[3]! + fit[5]!) / 2) * (Math.max(...widths) / 2) ** 2;
  return [a * widths[0]!, b * widths[1]!, power];
}

function frameOf(turn: Turn) {
  const light = places.map((row) =>
    row.map((place) =>
      inPatch(place) ? 0.5 + 0.35 * Math.cos(2 * Math.PI * (wavesAt(...place) + 0.2)) : 0.05,
    ),
  );
  const grey = seenBy(turn, light).flat();
  const values = Float32Array.from(grey, (level) => Math.round(255 * level) / 255);
  return { width: SIZE, height: SIZE, values, holds: 'intensity', levels: 255 } as const;
}

const EIGHT = SIXTEEN.filter(({ view }) => view === 'interferometer');

test.each(EIGHT)('turned $turned, mirrored $mirrored', (turn) => {
  const map = plainMap(turn as CameraOrientation, {
    ...{ centre: [X0, Y0], pitch: PITCH, columns: SIZE, rows: SIZE },
  });
  const { values, signKnown, visibility } = readPatch(design, design.patches[0]!, [frameOf(turn)], map);
  expect(signKnown).toBe(false);
  expect(visibility).toBeCloseTo(0.7, 2);
  const truth = counts();
  const sign = Math.sign(truth[0]! * values[0]!.fringes);
  for (const [k, count] of truth.entries())
    expect(Math.abs(sign * values[k]!.fringes - count)).toBeLessThan(NEAR + 2 * values[k]!.uncertainty);
});
