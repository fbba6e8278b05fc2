/**
 * Where the part's places come to stand in the substrate frame, and the part's degrees in its own: `part.rotation` turns about x, then about
 * the new y, then about the new z, so that a place of the part is turned about z first, then about y, then about x, and last moved to
 * `part.origin`. Worked out by hand, by three plane turns one after the other. mm, degrees, and µm as printed.
 */
import { describe, expect, it, test } from 'vitest';
import { fileOf, json, phasesOf, reportOf, type Words } from './support/command.ts';

type Place = readonly [number, number, number];

interface Report {
  readonly references: readonly { readonly id: string; readonly at: Place }[];
  readonly patches: readonly { readonly target: Place; readonly distance_mm: number }[];
  readonly part: {
    readonly sigma: Readonly<Record<string, number | null>>;
    readonly unobserved: readonly string[];
  };
}

interface Turned {
  readonly rotation: Place;
  readonly origin: Place;
}

const turned = (angle: number, [a, b]: readonly [number, number]): readonly [number, number] => {
  const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
  return [a * c - b * s, a * s + b * c];
};
/** About z from x toward y, about y from z toward x, about x from y toward z. */
function stands({ rotation: [rx, ry, rz], origin }: Turned, place: Place): Place {
  let [x, y, z] = place;
  [x, y] = turned(rz, [x, y]);
  [z, x] = turned(ry, [z, x]);
  [y, z] = turned(rx, [y, z]);
  return [origin[0] + x, origin[1] + y, origin[2] + z];
}

/** Twelve digits are printed. */
const near = (found: readonly number[], expected: readonly number[], within = 1e-8): void =>
  found.forEach((value, k) => {
    expect(Math.abs(value - expected[k]!)).toBeLessThan(within);
  });

test('by hand alone: turned by 90° about x and then by 90° about its new y, the part’s x lies along y', async () => {
  const [x] = (
    await reportOf<Report>({
      part: { origin: [7, -3, 900], rotation: [90, 90, 0] },
      references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [100, 0, 0], frame: 'part' }],
    })
  ).references;
  near(x!.at, [7, 97, 900]);
});

const PARTS: readonly Turned[] = [
  { rotation: [0, 0, 0], origin: [0, 0, 900] },
  { rotation: [20, -35, 50], origin: [40, -25, 950] },
  { rotation: [-15, 25, 130], origin: [-60, 10, 1100] },
];
const SMR = 38.1;

describe.each(PARTS)('a part turned by $rotation at $origin', (part) => {
  const words: Words = {
    part: {
      ...part,
      datums: {
        A: { plane: { point: [0, 0, 5], normal: [0, 0, -1] } },
        B: { cylinder: { point: [10, 0, 0], axis: [0, 0, 1], diameter: 240 } },
        C: { sphere: { centre: [0, 0, 60], diameter: 100 } },
      },
    },
    references: [
      { id: 'given', kind: 'smr', diameter: SMR, at: [30, 120, -40], frame: 'part' },
      { id: 'own', kind: 'smr', diameter: SMR, at: [30, 120, 800] },
      { id: 'rim', kind: 'smr', diameter: SMR, touches: [{ datum: 'B', azimuth: 60 }, { datum: 'A' }] },
      { id: 'ball', kind: 'ball', diameter: 20, touches: [{ datum: 'C', azimuth: 0, height: -48 }] },
    ],
    patches: [
      { id: 'p', reference: 'rim', focus: 'point', centre: [5, 40], outline: { circle: { diameter: 8 } } },
    ],
  };
  const rim = (240 + SMR) / 2;
  // Outside the cylinder at 60° about its axis, and half a ball before the plane, on the side where its normal looks.
  const atRim = stands(part, [10 + rim * 0.5, rim * Math.sqrt(0.75), 5 - SMR / 2]);

  it('its places stand where three turns bring them', async () => {
    const { references } = await reportOf<Report>(words);
    const at = Object.fromEntries(references.map((reference) => [reference.id, reference.at]));
    near(at.given!, stands(part, [30, 120, -40]));
    near(at.own!, [30, 120, 800]);
    near(at.rim!, atRim);
    // 60 mm from the sphere's centre by 36-0-48, on the side of −z.
    near(at.ball!, stands(part, [36, 0, 12]));
  });

  it('its patches send their light there', async () => {
    const { patches } = await reportOf<Report>(words);
    near(patches[0]!.target, atRim);
    const path = (x: number, y: number): number =>
      -Math.hypot(atRim[0] - x, atRim[1] - y, atRim[2]) - Math.hypot(x, y, 500);
    const [printed] = await phasesOf(words, 'p', [[8, 38]]);
    expect(Math.abs(printed! - (path(8, 38) - path(5, 40)) / 632.8e-6)).toBeLessThan(1e-5);
  });
});

describe('a part turned by 90° about z, its x along the substrate’s y', () => {
  const words: Words = {
    part: { origin: [0, 0, 900], rotation: [0, 0, 90] },
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [0, 0, 900], nest: 0 }],
    measurements: [{ id: 'gauge', reference: 'r', direction: [1, 0, 0], uncertainty: '10 um' }],
  };

  it('a length along the substrate’s x holds its y', async () => {
    const { sigma, unobserved } = (await reportOf<Report>(words)).part;
    expect(sigma.y).toBeCloseTo(10, 6);
    expect(unobserved).toEqual(['x', 'z', 'rx', 'ry', 'rz']);
  });

  it('and found 20 µm too long wants the part moved by 20 µm along its +y', async () => {
    // The part stands off by +20 µm along the substrate's x, its own −y: the move to make is the way back.
    const readings = 'readings: [{measurement: gauge, deviation_um: 20}]';
    const { part, references } = await json<{
      readonly part: { readonly move_um: Readonly<Record<string, number>> };
      readonly references: readonly { readonly move_um: Readonly<Record<string, number>> }[];
    }>(['steer', fileOf(words), '--readings', '-'], readings);
    near([part.move_um.x!, part.move_um.y!, part.move_um.z!], [0, 20, 0], 1e-6);
    near(
      [references[0]!.move_um.x!, references[0]!.move_um.y!, references[0]!.move_um.z!],
      [-20, 0, 0],
      1e-6,
    );
  });
});
