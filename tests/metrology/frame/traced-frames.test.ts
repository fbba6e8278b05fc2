/**
 * The independent frames that reading is held to are themselves right: turned as a viewer turns a picture, with the fringes of the bias, the
 * readings of the rays of patch-reading.ts and of the formula of stage-operator.ts, pixels that average. mm, fringes, pixels.
 */
import { describe, expect, it } from 'vitest';
import { SIXTEEN, seenBy } from '../../independent/camera-seen.ts';
import { type FrameCamera, pixelSeen, placeSeen } from '../../independent/frame-camera.ts';
import { detected, PERFECT } from '../../independent/frame-detector.ts';
import { returnTracer } from '../../independent/frame-return.ts';
import { tracedFrame } from '../../independent/frame-traced.ts';
import { patchTruth } from '../../independent/frame-truth.ts';
import { reader } from '../../independent/patch-reading.ts';
import type { Vector } from '../../independent/ray.ts';
import { rotationAbout, shown, WAVELENGTH } from '../../independent/stage-operator.ts';

const PLAIN = { view: 'interferometer', turned: 0, mirrored: false } as const;
const BEAM = { centre: [0, 0], diameter: 60 } as const;
const AIR = { wavelength: WAVELENGTH };
const ROOF = 2;
const line = {
  ...{ id: 'line', target: [40, 25, 600] as Vector, centre: [12, 6] as const, lineAngle: Math.PI / 6 },
  outline: {
    ...({ shape: 'rectangle', centre: [12, 6], width: 10, height: 10, rotation: Math.PI / 6 } as const),
  },
};
const roofed = { ...line, bias: { shape: 'roof', fringes: ROOF } as const };
const ball = {
  ...{ id: 'ball', target: [20, -30, 150] as Vector, centre: [-10, -9] as const, radius: 6.35 },
  outline: { shape: 'circle', centre: [-10, -9], radius: 6 } as const,
};
const camera = (over: Partial<FrameCamera> = {}): FrameCamera => ({
  ...{ width: 181, height: 160, turn: PLAIN, beam: BEAM },
  ...over,
});
const at = (target: Vector, move: Vector): Vector => [
  target[0] + move[0],
  target[1] + move[1],
  target[2] + move[2],
];
const asRows = (values: Float64Array, width: number): number[][] =>
  Array.from({ length: values.length / width }, (_, row) => [
    ...values.subarray(row * width, (row + 1) * width),
  ]);

describe('the camera', () => {
  const lit = [roofed, ball].map((patch) => ({
    ...returnTracer(AIR, patch)(at(patch.target, [0.001, 0.002, 0.01])),
    visibility: 0.8,
  }));
  const exposure = { level: 0.4, surround: 1 };
  const plain = asRows(tracedFrame(camera(), lit, exposure), camera().width);

  it.each(SIXTEEN)('shows the frame as a viewer turns it: %o', (turn) => {
    const expected = seenBy(turn, plain);
    const { width, height } = { width: expected[0]!.length, height: expected.length };
    const frame = asRows(tracedFrame(camera({ turn, width, height }), lit, exposure), width);
    const worst = Math.max(...frame.flatMap((row, r) => row.map((v, c) => Math.abs(v - expected[r]![c]!))));
    expect(worst).toBeLessThan(1e-9);
  });

  it('shows a place where the pixel that looks at it is, whatever its lens does', () => {
    const bent = camera({ off: [0.4, -0.3], distortion: -0.05, growth: 0.01, turn: SIXTEEN[6]! });
    const [column, row] = pixelSeen(bent)(...placeSeen(bent)(31.2, 110.7));
    expect(Math.hypot(column - 31.2, row - 110.7)).toBeLessThan(1e-6);
    // The edge of the beam stays, the middle is stretched or shrunk by the distortion.
    const edge = placeSeen(camera({ distortion: 0.05 }))((181 - 1) / 2 - 80, (160 - 1) / 2);
    expect(Math.hypot(...edge)).toBeCloseTo(30, 9);
    const near = placeSeen(camera({ distortion: 0.05 }))((181 - 1) / 2 - 1, (160 - 1) / 2);
    expect(near[0] / (30 / 80)).toBeCloseTo(1 / 0.95, 3);
  });

  it('averages over a pixel, where fringes are close, as many places in it do', () => {
    const wave = (x: number, y: number): number => 0.7 * x + 0.4 * y + 0.01 * x * x;
    const patch = {
      outline: ball.outline,
      ...{ branches: [{ waves: wave, comes: () => true }], visibility: 1 },
    };
    const { width } = camera();
    const frame = tracedFrame(camera(), [patch], { level: 1, surround: 0 });
    const [column, row] = pixelSeen(camera())(-9, -8).map(Math.round) as [number, number];
    const places = Array.from({ length: 1600 }, (_, k) =>
      placeSeen(camera())(column + ((k % 40) + 0.5) / 40 - 0.5, row + (Math.floor(k / 40) + 0.5) / 40 - 0.5),
    );
    const mean = places.reduce((sum, p) => sum + (1 + Math.cos(2 * Math.PI * wave(...p))) / 2, 0) / 1600;
    expect(frame[row * width + column]! / 2).toBeCloseTo(mean, 3);
  });
});

describe('what is to be read', () => {
  it.each([[[0.02, 0, 0]], [[0, -0.03, 0.05]], [[-0.011, 0.013, 0.3]]] as [Vector][])(
    'of a line is what the formula gives for a move of %j',
    (move) => {
      const trace = returnTracer(AIR, roofed);
      const [tilt] = patchTruth(roofed, trace(line.target), trace(at(line.target, move)));
      const asked = {
        id: 'line',
        onPart: line.target,
        target: line.target,
        centre: line.centre,
        side: 10,
        lineAngle: 30,
      };
      const formula = shown(asked, { rotation: rotationAbout([1, 0, 0], 0), shift: move });
      // Second order: the wave is no plane, and the roof lets the rays wander.
      expect(Math.abs(tilt! - formula)).toBeLessThan(0.004 * Math.abs(formula) + 0.002);
    },
  );

  it.each([[[0.002, 0.001, 0]], [[-0.001, 0.002, 0.03]]] as [Vector][])(
    'of a ball is what its rays give elsewhere for a move of %j',
    (move) => {
      const trace = returnTracer(AIR, ball);
      const found = patchTruth(ball, trace(ball.target), trace(at(ball.target, move)));
      const read = reader({ ...AIR, focus: [0, 0, -500] }, ball);
      const [before, after] = [read({}), read({ move })];
      const rises = after.map((value, k) => value - before[k]!);
      // There the path's rise is told: the reading is its fall.
      expect(Math.max(...found.map((value, k) => Math.abs(value + rises[k]!)))).toBeLessThan(0.005);
    },
  );
});

const SIDE = 300;
it('shows the fringes of a roof from the ridge to the edge of each half where all is aligned', () => {
  const lit = { ...returnTracer(AIR, roofed)(line.target), visibility: 0.9 };
  const view = camera({ width: SIDE, height: SIDE });
  const frame = detected(tracedFrame(view, [lit], { level: 0.4, surround: 1 }), view, PERFECT, 1).values;
  const place = placeSeen(view);
  const [c, s] = [Math.cos(line.lineAngle), Math.sin(line.lineAngle)];
  for (const side of [1, -1]) {
    const samples = Array.from(frame).flatMap((value, k) => {
      const [x, y] = place(k % SIDE, Math.floor(k / SIDE));
      const [along, across] = [(x - 12) * c + (y - 6) * s, (y - 6) * c - (x - 12) * s];
      return side * along > 0.4 && side * along < 4.6 && Math.abs(across) < 4.6
        ? [[along, value - 0.4] as const]
        : [];
    });
    const strength = (fringes: number): number => {
      const [re, im] = samples.reduce(
        ([a, b], [along, value]) => {
          // A window that falls to nothing at either end.
          const angle = (2 * Math.PI * fringes * along) / 5;
          const window = Math.sin((Math.PI * (side * along - 0.4)) / 4.2) ** 2;
          return [a + window * value * Math.cos(angle), b + window * value * Math.sin(angle)];
        },
        [0, 0],
      );
      return Math.hypot(re, im);
    };
    const tried = Array.from({ length: 41 }, (_, k) => 1.5 + k / 40);
    const best = tried.reduce((a, b) => (strength(b) > strength(a) ? b : a));
    expect(Math.abs(best - ROOF)).toBeLessThan(0.1);
  }
});
