/**
 * The main pattern: the null of the surface under test. Its wave meets the surface square on all over the aperture; its outline is the
 * aperture carried along the normals to the pattern, and a margin. mm, waves at order 1.
 */
import type { Finding } from '../finding/finding.ts';
import { boundaryOf } from '../geometry/boundary.ts';
import { contains } from '../geometry/contains.ts';
import { boundsOf } from '../geometry/extent.ts';
import type { Outline } from '../geometry/outline.ts';
import { type Loop, lengthOf, pointAlong } from '../geometry/piece.ts';
import { boundaryPoints, interiorGrid, joined, spacingFor } from '../geometry/sampling.ts';
import { distance2, type Vec2 } from '../geometry/vector.ts';
import { widened } from '../geometry/widened.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import { type Footing, NormalsOf, type NullWave, nullWave, type PlacedSag } from '../optics/null-wave.ts';
import { trimmed } from '../quantity/format.ts';
import { MAIN, type NullTest, type Scenario } from '../scenario/scenario.ts';
import { causticAt } from './caustic.ts';
import type { DesignedBeam, DesignedGlass } from './design.ts';
import type { Pattern } from './pattern.ts';
import { PatternPhase } from './pattern-phase.ts';
import { zeroOf } from './phase-zero.ts';
import { isUpright, testedSurface } from './tested-surface.ts';

export interface MainPattern extends Pattern {
  readonly test: NullTest;
  readonly surface: PlacedSag;
  readonly normals: NormalsOf;
  /** The wave that leaves the pattern for the surface. */
  readonly wave: NullWave;
  /** What of the pattern the light of the aperture crosses: the outline without its margin. */
  readonly footprint: Outline;
}

const INSIDE = 400;
const ALONG_EDGE = 240;

export function designMain(
  { interferometer, part, test }: Scenario,
  beam: DesignedBeam,
  glass: DesignedGlass,
  wavelength: number,
): MainPattern | Finding | undefined {
  if (test === undefined) return undefined;
  const datum = part.datums.find(({ id }) => id === test.surface);
  if (datum === undefined) throw new Error(`the scenario has no datum ${test.surface}`);
  const surface = testedSurface(datum, part);
  const after = glass.side === 'after' ? glass : { thickness: 0, index: 1 };
  const normals = new NormalsOf(surface, after);
  const spacing = spacingFor(test.aperture, INSIDE);
  const { xs, ys } = joined(interiorGrid(test.aperture, spacing), boundaryPoints(test.aperture, ALONG_EDGE));
  const samples = Array.from(xs, (x, k) => ({ on: [x, ys[k]!] as Vec2, footing: normals.from(x, ys[k]!) }));
  const fault = unreachable(test, samples) ?? crossing(test, normals, samples, spacing);
  if (fault !== undefined) return fault;
  const footings = samples.map(({ on, footing }) => ({ on, at: footing!.at }));
  const footprint = footprintOf(test.aperture, surface, normals);
  const outline = withMargin(footprint, test.margin);
  const bounds = boundsOf(outline);
  const wave = nullWave(normals, footings, bounds);
  const short = endsWithinMargin(test, outline, wave) ?? unlitMark(test, normals, outline);
  if (short !== undefined) return short;
  const centre: Vec2 = [(bounds.minX + bounds.maxX) / 2, (bounds.minY + bounds.maxY) / 2];
  return {
    ...{ id: MAIN, test, surface, normals, wave, footprint, outline, centre },
    ...{ order: test.order, bias: undefined },
    isRound: outline.shape !== 'polygon' && isRoundAbout(centre, interferometer),
    phase: new PatternPhase(
      beam.eikonal,
      wave,
      test.order,
      wavelength,
      zeroOf({ centre, outline }, wave),
      undefined,
    ),
  };
}

/** Whether the beam is the same all round a line square to the pattern. */
function isRoundAbout([x, y]: Vec2, { beam }: Scenario['interferometer']): boolean {
  if (beam.kind === 'collimated') return beam.direction[0] === 0 && beam.direction[1] === 0;
  return distance2([beam.focus[0], beam.focus[1]], [x, y]) <= ON_AXIS;
}

/** mm: the last digits of a centre between an outline's bounds. */
const ON_AXIS = 1e-9;

interface Followed {
  readonly on: Vec2;
  readonly footing: Footing | undefined;
}

const placeWords = ([x, y]: Vec2): string => `x ${trimmed(x, 3)} mm, y ${trimmed(y, 3)} mm`;

/** Normals that cross on their way to the pattern in some of the footprint and not in the rest. */
function crossing(
  test: NullTest,
  normals: NormalsOf,
  samples: readonly Followed[],
  spacing: number,
): Finding | undefined {
  const footings = samples.map(({ on, footing }) => ({ on, footing: footing! }));
  const at = causticAt(test.aperture, normals, footings, spacing);
  if (at === undefined) return undefined;
  return {
    severity: 'error',
    rule: 'caustic',
    where: 'test.surface',
    message: `normals of surface ${test.surface} cross at the pattern (a caustic), at ${placeWords(at)} on it: no phase gives a null there`,
    hint: 'move the part along the light, so that the surface’s centres of curvature lie clear of the pattern',
    path: ['test', 'surface'],
  };
}

/** A place of the aperture whose normal does not come back through the pattern. */
function unreachable({ surface }: NullTest, samples: readonly Followed[]): Finding | undefined {
  const lost = samples.filter(({ footing }) => footing === undefined);
  const [first] = lost;
  if (first === undefined) return undefined;
  return {
    severity: 'error',
    rule: 'target-behind',
    where: 'test.aperture',
    message:
      `light cannot meet surface ${surface} square on at ${placeWords(first.on)} of its aperture` +
      `${lost.length === 1 ? '' : ` and ${lost.length - 1} of ${samples.length} other places tried`}: ` +
      'the surface does not reach so far, or its normal does not come back to the pattern',
    hint: 'check the aperture’s size and centre, the surface’s radius and axis, and `part.origin`',
    path: ['test', 'aperture'],
  };
}

/** A surface that ends so near to its aperture that the pattern's margin has no phase. */
function endsWithinMargin({ surface }: NullTest, outline: Outline, wave: Eikonal): Finding | undefined {
  const { xs, ys } = boundaryPoints(outline, ALONG_EDGE);
  const paths = new Float64Array(xs.length);
  wave.accumulate(xs, ys, 1, paths, xs.length);
  const lost = paths.findIndex(Number.isNaN);
  if (lost < 0) return undefined;
  return {
    severity: 'error',
    rule: 'target-behind',
    where: 'test.margin',
    message: `surface ${surface} ends within the margin of its pattern, at ${placeWords([xs[lost]!, ys[lost]!])} on it: there is no phase`,
    hint: 'make `test.margin` or the aperture smaller, or let the surface (its grid) reach further',
    path: ['test'],
  };
}

/** A mark on the part that no light of the main pattern meets. */
function unlitMark(test: NullTest, normals: NormalsOf, outline: Outline): Finding | undefined {
  const index = test.fiducials.findIndex(({ at: [x, y] }) => {
    const footing = normals.from(x, y);
    return footing === undefined || !contains(outline, footing.at);
  });
  if (index < 0) return undefined;
  const { id, at } = test.fiducials[index]!;
  return {
    severity: 'error',
    rule: 'out-of-range',
    where: id,
    message: `mark ${id} at ${placeWords(at)} lies outside the aperture of surface ${test.surface}: no light of the main pattern shows it`,
    hint: 'its place counts in the surface’s own x and y, as the aperture’s does; leave out a mark that the test does not see',
    path: ['test', 'fiducials', index, 'at'],
  };
}

/** The aperture carried along the normals: round where aperture and surface are round about an axis square to the pattern. */
function footprintOf(aperture: Outline, surface: PlacedSag, normals: NormalsOf): Outline {
  const at = ([x, y]: Vec2): Vec2 => normals.from(x, y)!.at;
  const { origin } = surface.frame;
  const middle: Vec2 = [origin[0], origin[1]];
  const isRound = normals.isRound && isUpright(surface.frame);
  if (isRound && aperture.shape === 'circle' && aperture.centre.every((value) => value === 0))
    return { shape: 'circle', centre: middle, radius: distance2(at([aperture.radius, 0]), middle) };
  if (isRound && aperture.shape === 'ring' && aperture.centre.every((value) => value === 0)) {
    const radii = [aperture.inner, aperture.outer].map((radius) => distance2(at([radius, 0]), middle));
    return { shape: 'ring', centre: middle, inner: Math.min(...radii), outer: Math.max(...radii) };
  }
  return { shape: 'polygon', points: widened(loopPoints(boundaryOf(aperture)[0]!).map(at), 0) };
}

/** Corners, and points between them close enough for a chord to leave the edge by less than a margin ever matters. */
function loopPoints(loop: Loop): readonly Vec2[] {
  const whole = loop.reduce((sum, piece) => sum + lengthOf(piece), 0);
  return loop.flatMap((piece) => {
    const runs = Math.max(1, Math.ceil((ALONG_EDGE * lengthOf(piece)) / whole));
    return Array.from({ length: runs }, (_, k) => pointAlong(piece, k / runs));
  });
}

function withMargin(footprint: Outline, margin: number): Outline {
  switch (footprint.shape) {
    case 'circle':
      return { ...footprint, radius: footprint.radius + margin };
    case 'ring': {
      const inner = footprint.inner - margin;
      const { centre, outer } = footprint;
      return inner > 0
        ? { ...footprint, inner, outer: outer + margin }
        : { shape: 'circle', centre, radius: outer + margin };
    }
    case 'polygon':
      return { shape: 'polygon', points: widened(footprint.points, margin) };
    default:
      throw new RangeError(`a footprint is no ${footprint.shape}`);
  }
}
