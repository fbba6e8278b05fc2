/**
 * What cuts and what touches, against points sampled over solids and spheres (tests/independent/solid-points.ts): random scenes, the part
 * anywhere and turned anyhow.
 */
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/finding/finding.ts';
import { collision } from '../../src/rules/collision.ts';
import { noContact } from '../../src/rules/no-contact.ts';
import type { Place } from '../independent/fermat.ts';
import { normalDeviates } from '../independent/random.ts';
import {
  distanceOnSurface,
  overlapBySampling,
  type SolidWords,
  sampled,
} from '../independent/solid-points.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';

/** Rounding, mm. */
const ROUNDING = 1e-9;
/** What the rule lets pass, mm, at solids and at a mesh. */
const [DRAWN, FACETED] = [0.01, 0.1];

/** The solids of 40 to 60 mm, near the part's origin. */
const SOLIDS: readonly (readonly [string, SolidWords])[] = [
  ['a cylinder', { cylinder: { point: [3, -4, -10], axis: [0, 0, 1], diameter: 50, length: 24 } }],
  ['a frustum', { cone: { point: [0, 5, -12], axis: [0, 0, 1], diameters: [56, 20], length: 30 } }],
  ['a cone, tip first', { cone: { point: [0, 0, -20], axis: [0, 0, 1], diameters: [0, 44], length: 30 } }],
  ['a box', { box: { corner: [-20, -25, -15], size: [40, 44, 32] } }],
  ['a sphere', { sphere: { centre: [4, 2, -3], diameter: 46 } }],
];

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Intrinsic x-y-z angles, degrees: about z first when a point is carried. */
function carried([a, b, c]: Place, origin: Place, [x, y, z]: Place): Place {
  const turn = (angle: number, p: number, q: number): [number, number] => [
    p * Math.cos(radians(angle)) - q * Math.sin(radians(angle)),
    p * Math.sin(radians(angle)) + q * Math.cos(radians(angle)),
  ];
  const [x1, y1] = turn(c, x, y);
  const [z2, x2] = turn(b, z, x1);
  const [y3, z3] = turn(a, y1, z2);
  return [origin[0] + x2, origin[1] + y3, origin[2] + z3];
}

function expectOverlap(
  findings: readonly Finding[],
  [least, most]: readonly [number, number],
  allowed: number,
  name: RegExp,
): void {
  if (most < allowed) expect(findings).toEqual([]);
  if (least > allowed) expect(findings).toHaveLength(1);
  for (const { value, message } of findings) {
    expect(message).toMatch(name);
    expect(value).toBeGreaterThan(least - ROUNDING);
    expect(value).toBeLessThan(most + ROUNDING);
  }
}

describe.each(SOLIDS)('%s', (_, words) => {
  const samples = sampled(words);
  const normal = normalDeviates(JSON.stringify(words).length);
  const scenes = Array.from({ length: 16 }, () => {
    const rotation: Place = [40 * normal(), 40 * normal(), 40 * normal()];
    const origin: Place = [20 * normal(), 20 * normal(), 700];
    // Part frame: near the surface more often than not.
    const direction: Place = [normal(), normal(), normal()];
    const size = Math.hypot(...direction);
    const away = 27 + 6 * normal();
    const at = direction.map((value) => (away * value) / size) as unknown as Place;
    const diameter = 12 + 6 * Math.abs(normal());
    return { rotation, origin, at, diameter, overlap: overlapBySampling(samples, at, diameter / 2) };
  });

  const found = (more: Words, at: Place, diameter: number) =>
    collision.find(designFrom({ ...more, references: [{ id: 'r', kind: 'ball', diameter, at }] }));

  test('of the part, anywhere: the overlap is what samples say', () => {
    expect(scenes.some(({ overlap: [least] }) => least > 1)).toBe(true);
    expect(scenes.some(({ overlap: [, most] }) => most < -1)).toBe(true);
    for (const { rotation, origin, at, diameter, overlap } of scenes) {
      const part = { rotation, origin, envelope: [words] };
      expectOverlap(
        found({ part }, carried(rotation, origin, at), diameter),
        overlap,
        DRAWN,
        /the part's envelope 1/,
      );
    }
  });

  test('of a clamp on the bench: the same', () => {
    const raised = (at: Place): Place => [at[0], at[1], at[2] + 400];
    const { cylinder, cone, box, sphere } = words;
    const solid = {
      ...(cylinder && { cylinder: { ...cylinder, point: raised(cylinder.point) } }),
      ...(cone && { cone: { ...cone, point: raised(cone.point) } }),
      ...(box && { box: { ...box, corner: raised(box.corner) } }),
      ...(sphere && { sphere: { ...sphere, centre: raised(sphere.centre) } }),
    };
    for (const { at, diameter, overlap } of scenes)
      expectOverlap(
        found({ obstacles: [{ id: 'clamp', solids: [solid] }] }, raised(at), diameter),
        overlap,
        DRAWN,
        /obstacle clamp/,
      );
  });
});

test('a mesh of a box cuts as the box does, its inside too', () => {
  const [corner, size]: [Place, Place] = [
    [-20, -25, 380],
    [40, 44, 32],
  ];
  const samples = sampled({ box: { corner, size } });
  const files = () => new TextEncoder().encode(stlOfBox(corner, size));
  const normal = normalDeviates(3);
  for (let k = 0; k < 24; k++) {
    const at: Place = [18 * normal(), 20 * normal(), 396 + 16 * normal()];
    const overlap = overlapBySampling(samples, at, 5);
    const design = designFrom(
      {
        references: [{ id: 'r', kind: 'ball', diameter: 10, at }],
        part: { envelope: [{ mesh: { file: 'box.stl' } }] },
      },
      files,
    );
    expectOverlap(collision.find(design), overlap, FACETED, /mesh box.stl/);
  }
});

/** Twelve triangles, their corners counterclockwise seen from outside. */
function stlOfBox(corner: Place, size: Place): string {
  const at = (k: number): string =>
    [0, 1, 2].map((axis) => corner[axis]! + (k & (1 << axis) ? size[axis]! : 0)).join(' ');
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangle = (...corners: number[]): string =>
    `facet normal 0 0 0\nouter loop\n${corners.map((k) => `vertex ${at(k)}\n`).join('')}endloop\nendfacet\n`;
  const triangles = faces.map(([a, b, c, d]) => triangle(a!, b!, c!) + triangle(a!, c!, d!));
  return `solid box\n${triangles.join('')}endsolid box\n`;
}

describe('a ball in the corner of a rim and a flange', () => {
  const RADIUS = 8;
  const RIM = 30;
  /** Where the flange ends short of the contact by 1 mm, its samples are farther than the radius by 1/(2 · 8) mm. */
  const [TOLD, SEEN] = [1, 0.03];
  const normal = normalDeviates(11);
  const scenes = Array.from({ length: 20 }, () => ({
    short: 4 * normal(),
    low: 4 * normal(),
    azimuth: 360 * normal(),
  }));

  test('touches what samples of the part say that it touches', () => {
    let [on, off] = [0, 0];
    for (const { short, low, azimuth } of scenes) {
      if (Math.abs(short) < TOLD || Math.abs(low) < TOLD || low > RADIUS - TOLD) continue;
      // The contacts are RADIUS up the rim, RIM + RADIUS out on the flange.
      const up = RADIUS - low;
      const envelope: SolidWords[] = [
        { cylinder: { point: [0, 0, -up], axis: [0, 0, 1], diameter: 2 * RIM, length: up } },
        { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 2 * (RIM + RADIUS - short), length: 12 } },
      ];
      const design = designFrom({
        part: {
          origin: [0, 0, 600],
          envelope,
          datums: {
            A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
            B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 2 * RIM } },
          },
        },
        references: [
          { id: 'r', kind: 'ball', diameter: 2 * RADIUS, touches: [{ datum: 'B', azimuth }, { datum: 'A' }] },
        ],
      });
      const solids = envelope.map(sampled);
      const out = RIM + RADIUS;
      const centre: Place = [out * Math.cos(radians(azimuth)), out * Math.sin(radians(azimuth)), -RADIUS];
      const isTouched = (liesOn: (p: Place) => boolean): boolean =>
        distanceOnSurface(solids, liesOn, centre) < RADIUS + SEEN;
      const expected = [
        ...(isTouched((p) => Math.abs(Math.hypot(p[0], p[1]) - RIM) < 1e-9) ? [] : ['B']),
        ...(isTouched((p) => Math.abs(p[2]) < 1e-9) ? [] : ['A']),
      ];
      const said = noContact.find(design).map(({ message }) => /touches (\w+)/.exec(message)![1]);
      expect(said).toEqual(expected);
      expected.length === 0 ? on++ : off++;
    }
    expect(Math.min(on, off)).toBeGreaterThan(2);
  });
});
