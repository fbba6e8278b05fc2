/**
 * The way in to alignment, for moving pictures: what is off at the start, and by how much. A patch's reference along each direction that
 * the patch senses; the hologram or the part for each count of a ring; the part along each degree that shows in the null, or anywhere in
 * the aperture. mm, radians.
 *
 * It starts as far off as an eye still counts the fringes, or nearer where the picture has too few pixels for them or shows more than are of use.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { dot, length, scale, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { benchState, type Displacements } from '../camera/fringe-picture-displacements.ts';
import { nullFringes, shownMotions } from '../null/null-fringes.ts';
import { motionRanges } from '../rings/motion-range.ts';
import { motionIn } from '../rings/return-ring.ts';
import { countsByDegree, motionFor, type RingBody, ringMoves, withMoved } from '../rings/ring-moves.ts';
import { leading } from '../rings/ring-strip.ts';
import { isRing } from '../rings/ring-trace.ts';
import { biasDensity } from '../sensing/capture-range.ts';
import { RING_COUNTS, rulerOf } from '../sensing/ring-count.ts';
import { sensesOf } from '../sensing/sensitivity.ts';
import { carrierOf } from './carriers.ts';

export interface WayIn {
  readonly of: 'reference' | RingBody;
  readonly kind: 'turn' | 'shift';
  /** Unit vector along the shift or about which it turns: of the part in its own frame, else in the substrate frame. */
  readonly direction: Vec3;
  /** At the start. */
  readonly from: number;
  /** As far as an eye counts the fringes on the camera; undefined where nothing on a bench ends that. */
  readonly readable: number | undefined;
  /** Fringes at the start beyond those of the bias; in the aperture, of the patch that shows most. */
  readonly fringes: number;
  /** The bench when a share of `from` is left. */
  readonly at: (share: number) => Displacements;
}

/** Fringes to a pixel of the moving picture, at most: four pixels show one. */
const MOST_PER_PIXEL = 0.25;
/** More at the start show no more. */
const MOST_FRINGES = 16;
/** With fewer at the start there is nothing to see. */
const LEAST_FRINGES = 0.3;

/** `pitch`: length on the pattern that a pixel of the moving picture sees. Empty for a screen. */
export function waysIn(design: Design, patch: DesignedPatch, pitch: number): readonly WayIn[] {
  if (isRing(patch)) return ringWays(design, patch, pitch);
  const density = pictureDensity(patch, pitch);
  return sensesOf(design, patch).flatMap((sense) => {
    const { kind, direction, width, fringesPerMm, readableRange } = sense;
    // Fringes of power are closest at the edge: four times their mean.
    const most = (density * width) / (kind === 'tilt' ? 1 : 4);
    const from = Math.min(readableRange, Math.min(most, MOST_FRINGES) / fringesPerMm);
    return seen({
      ...{ of: 'reference', kind: 'shift', direction, from, readable: readableRange },
      fringes: from * fringesPerMm,
      at: (share) => ({ references: new Map([[patch.reference.id, scale(direction, share * from)]]) }),
    });
  });
}

const seen = (way: WayIn): readonly WayIn[] => (way.fringes >= LEAST_FRINGES ? [way] : []);

/** Fringes per mm of the pattern that such pixels leave room for beside those of the bias. */
const pictureDensity = (patch: DesignedPatch, pitch: number): number =>
  Math.max(0, MOST_PER_PIXEL / pitch - Math.hypot(...biasDensity(patch)));

function ringWays(design: Design, patch: DesignedPatch, pitch: number): readonly WayIn[] {
  const ranges = motionRanges(design, patch)?.readable;
  const density = pictureDensity(patch, pitch);
  return leading(ringMoves(design, patch)).flatMap((move) => {
    const { of, kind, count, perFringe } = move;
    const perUnit = length(perFringe);
    const direction = scale(perFringe, 1 / perUnit);
    const degrees = kind === 'turn' ? DEGREES.slice(3) : DEGREES.slice(0, 3);
    // Fringes of several degrees add up where they are closest, at most.
    const taken = degrees.reduce((sum, degree, k) => {
      const range = ranges?.[degree];
      return sum + (range === undefined ? 0 : Math.abs(direction[k]!) / range);
    }, 0);
    const readable = taken === 0 ? undefined : 1 / taken;
    const pictured = Math.min(density * fringeLength(patch, count), MOST_FRINGES);
    const fringes = Math.min(pictured, (readable ?? Number.POSITIVE_INFINITY) / perUnit);
    return seen({
      ...{ of, kind, direction, from: fringes * perUnit, readable, fringes },
      at: (share) => withMoved(of, motionFor(move, share * fringes)),
    });
  });
}

/** mm of the pattern that one fringe of a count takes where they are closest. */
function fringeLength({ outline }: DesignedPatch, count: number): number {
  const { widths, radii } = rulerOf(outline);
  const [inner, outer] = radii;
  return RING_COUNTS[count] === 'power' ? (outer ** 2 - inner ** 2) / (2 * outer) : widths[count]!;
}

/** mm and radians: a part is set nearer than this by eye. */
const BY_EYE = { shift: 1, turn: 1e-3 } as const;
const byEye = (degree: Degree): number => BY_EYE[degree.startsWith('r') ? 'turn' : 'shift'];

/** Of the null at the start, in its form that shows most: four times what its stills show. */
const BEYOND_STILLS = 4;

/** The null of the surface under test: the part off along each degree that shows in it. */
export const nullWaysIn = (design: Design): readonly WayIn[] =>
  shownMotions(design).flatMap(({ degree, amount, forms }) => {
    const way = partOff(design, degree, Math.min(BEYOND_STILLS * amount, byEye(degree)));
    const fringes = (way.from / amount) * Math.max(...Object.values(forms));
    return seen({ ...way, readable: undefined, fringes });
  });

/** The whole aperture: the part off along each degree as far as the fringes of every patch and of the null are counted. */
export const apertureWaysIn = (design: Design, pitch: number): readonly WayIn[] =>
  DEGREES.flatMap((degree) => {
    const shown = [...patchesShown(design, degree, pitch), ...nullShown(design, degree, pitch)];
    const from = Math.min(byEye(degree), ...shown.map(({ range }) => range));
    const readable = Math.min(...shown.map(({ readable }) => readable));
    return seen({
      ...partOff(design, degree, from),
      readable: Number.isFinite(readable) ? readable : undefined,
      fringes: Math.max(0, ...shown.map(({ perUnit }) => from * perUnit)),
    });
  });

interface Shown {
  /** Fringes for a mm or a radian. */
  readonly perUnit: number;
  readonly readable: number;
  /** Readable, and seen in the moving picture. */
  readonly range: number;
}

const patchesShown = (design: Design, degree: Degree, pitch: number): readonly Shown[] =>
  design.patches.flatMap((patch): readonly Shown[] => {
    if (isRing(patch))
      return isReadBy(patch.reference, 'alignment') ? [] : ringShown(design, patch, degree, pitch);
    const moved = benchState(design, partOff(design, degree, UNIT).at(1)).displacementOf(patch.reference);
    const density = pictureDensity(patch, pitch);
    return sensesOf(design, patch).map(({ kind, direction, width, fringesPerMm, readableRange }) => {
      const move = Math.abs(dot(moved, direction)) / UNIT;
      const most = (density * width) / (kind === 'tilt' ? 1 : 4) / fringesPerMm;
      return shownBy(move * fringesPerMm, readableRange / move, most / move);
    });
  });

function ringShown(design: Design, patch: DesignedPatch, degree: Degree, pitch: number): readonly Shown[] {
  const rates = countsByDegree(design, patch);
  if (rates === undefined) return [];
  const readable = motionRanges(design, patch)?.readable[degree] ?? Number.POSITIVE_INFINITY;
  const density = pictureDensity(patch, pitch);
  return RING_COUNTS.map((_, count) => {
    const perUnit = Math.abs(rates[count * DEGREES.length + DEGREES.indexOf(degree)]!);
    return shownBy(perUnit, readable, (density * fringeLength(patch, count)) / perUnit);
  });
}

function nullShown(design: Design, degree: Degree, pitch: number): readonly Shown[] {
  const forms = nullFringes(design).find((one) => one.degree === degree)?.forms;
  if (forms === undefined || design.main === undefined) return [];
  const perUnit = Math.max(...Object.values(forms));
  const { widths } = rulerOf((design.main as MainPattern).footprint);
  return [
    shownBy(perUnit, Number.POSITIVE_INFINITY, (MOST_PER_PIXEL * Math.min(...widths)) / 4 / pitch / perUnit),
  ];
}

/** What hardly shows, and by rounding alone, ends no range. */
const shownBy = (perUnit: number, readable: number, pictured: number): Shown =>
  perUnit < LEAST_PER_UNIT
    ? { perUnit: 0, readable: Number.POSITIVE_INFINITY, range: Number.POSITIVE_INFINITY }
    : { perUnit, readable, range: Math.min(readable, pictured) };

/** Fringes per mm or radian: less than LEAST_FRINGES at what is set by eye. */
const LEAST_PER_UNIT = 1e-3;
/** mm or radians, small enough for displacements to be proportional to it. */
const UNIT = 1e-4;

/** The part off along a degree, and with it all references but those on mounts of their own. */
function partOff(
  design: Design,
  degree: Degree,
  from: number,
): Pick<WayIn, 'of' | 'kind' | 'direction' | 'from' | 'at'> {
  const kind = degree.startsWith('r') ? 'turn' : 'shift';
  const [along, about] = motionIn(degree, 1);
  const at = (share: number): Displacements => {
    const [translation, rotation] = motionIn(degree, share * from);
    const part = { translation, rotation };
    const { displacementOf } = benchState(design, { part });
    const standing = design.references.filter(
      (reference) => isReadBy(reference, 'senses') && carrierOf(design, reference) === 'mounts',
    );
    const references = new Map(
      standing.map((reference) => [reference.id, scale(displacementOf(reference), -1)]),
    );
    return { part, references };
  };
  return { of: 'part', kind, direction: kind === 'turn' ? about : along, from, at };
}
