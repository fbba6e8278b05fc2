/**
 * What the blank and the interferometer's reference wavefront do to where a patch aims. A ray of lateral cosine s (the same in air and,
 * n times over, in the glass: Snell) crosses a plane plate of thickness t with the optical path n t/cos θ′ instead of t/cos θ; kept to its
 * ends, it changes by n cos θ′ − cos θ for each mm of t, and by t/cos θ′ for each unit of n, with n cos θ′ = √(n² − s²), cos θ = √(1 − s²).
 * Lengths mm; waves from the centre to the edge of the beam.
 *
 * Glass that light crosses before the pattern changes the beam alone: its thickness and index are then met again in the hologram's
 * place along the beam (hologram-alignment.ts), and only its wedge and its wavefront are counted.
 */
import type { Design } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { gradientAt } from '../../optics/eikonal.ts';
import type { WaveChange } from '../sensing/apparent-move.ts';
import { type ErrorModel, type ErrorSource, effectsOn, type Term } from './error-source.ts';
import { blankCountedOn } from './fabricator-limits.ts';
import { beamTurn } from './hologram-alignment.ts';
import type { PatternChange } from './null-share.ts';
import { type Reading, shownBy } from './readings.ts';
import { waveError } from './wave-error.ts';

export const glassThickness: ErrorModel = (design, readings, practice) =>
  afterPattern(design, readings, 'glass thickness', blankCountedOn(design, practice).thickness.u, (s) =>
    slowed(design.glass.index, s),
  );

export const glassIndexError: ErrorModel = (design, readings, practice) => {
  const { index, thickness } = design.glass;
  return afterPattern(
    design,
    readings,
    'glass index',
    blankCountedOn(design, practice).index.u,
    (s) => (thickness * index) / Math.sqrt(index * index - s * s),
  );
};

/** A wedge about each axis. Most of it turns test wavefront and references alike, by (n − 1) times the angle. */
export const wedge: ErrorModel = (design, readings, practice) => {
  const { glass } = design;
  if (glass.thickness === 0) return [];
  return ([0, 1] as const).map((axis): ErrorSource => {
    const change: PatternChange = (x, y, pattern) => {
      const [gx, gy] = crossing(design, pattern, x, y);
      const s = Math.hypot(gx, gy);
      // From the pattern's side of the glass to the other: the wedge is met there.
      const run = glass.thickness / Math.sqrt(glass.index ** 2 - s * s);
      const place = axis === 0 ? x : y;
      const lateral = (axis === 0 ? gx : gy) * run * (glass.side === 'after' ? 1 : -1);
      return slowed(glass.index, s) * (place + lateral);
    };
    const tilt = glass.index - 1;
    return {
      ...{ term: 'wedge', name: axis === 0 ? 'along x' : 'along y', distribution: 'normal' },
      u: blankCountedOn(design, practice).wedge.u,
      ...waveError(design, readings, change, beamTurn(design, axis === 0 ? [tilt, 0] : [0, tilt])),
    };
  });
};

/**
 * Power and both astigmatisms of the blank, crossed once, and of the reference wavefront. That one is met once in the fringes, a change of
 * the leaving wave twice: half of it comes to the same. They misshape the null and hardly move it, so that what the readings show counts
 * in full.
 */
export const wavefronts: ErrorModel = (design, readings, practice) => {
  const { centre, cameraDiameter } = design.beam;
  const scale = design.light.wavelength / (cameraDiameter / 2) ** 2;
  const shapes = LOW_ORDERS.map(([name, shape]) => {
    const change: WaveChange = (x, y) => scale * shape(x - centre[0], y - centre[1]);
    const effects = effectsOn(readings.keys(), (k) => shownBy(design, readings[k]!, change));
    return { name, distribution: 'normal', effects } as const;
  });
  const blank = blankCountedOn(design, practice).wavefront.u;
  const reference = design.scenario.interferometer.wavefront ?? practice.referenceWavefront;
  const sources = (term: Term, u: number): ErrorSource[] => shapes.map((shape) => ({ ...shape, term, u }));
  return [
    ...(design.glass.thickness === 0 ? [] : sources('transmitted wavefront', blank)),
    ...sources('interferometer reference', reference / 2),
  ];
};

/** 1 at the edge of a beam of radius 1. */
const LOW_ORDERS: readonly (readonly [name: string, shape: WaveChange])[] = [
  ['power', (x, y) => x * x + y * y],
  ['astigmatism', (x, y) => x * x - y * y],
  ['astigmatism at 45°', (x, y) => 2 * x * y],
];

/** n cos θ′ − cos θ. */
const slowed = (n: number, s: number): number => Math.sqrt(n * n - s * s) - Math.sqrt(Math.max(0, 1 - s * s));

/** Lateral cosines of the ray through the glass at a point of the pattern: of the beam, or of what leaves the pattern. */
function crossing(design: Design, pattern: Pattern, x: number, y: number): readonly [number, number] {
  const [ix, iy] = gradientAt(design.beam.eikonal, x, y);
  if (design.glass.side === 'before') return [ix, iy];
  const [gx, gy] = pattern.phase.gradient(x, y);
  const path = pattern.order * design.light.wavelength;
  return [ix + path * gx, iy + path * gy];
}

function afterPattern(
  design: Design,
  readings: readonly Reading[],
  term: Term,
  u: number,
  change: (s: number) => number,
): readonly ErrorSource[] {
  if (design.glass.thickness === 0 || design.glass.side === 'before') return [];
  const error = waveError(design, readings, (x, y, pattern) =>
    change(Math.hypot(...crossing(design, pattern, x, y))),
  );
  return [{ term, name: 'blank', u, distribution: 'normal', ...error }];
}
