/**
 * Where a misread table has each place of a patch, by every set of steps on places: mirrored or swapped axes, a centre of its own, a
 * normalisation radius or all lengths in another unit or scale. Places mm, substrate frame.
 */
import type { Vec2 } from '../geometry/vector.ts';
import { LENGTH_UNITS, lengthStep } from './length-steps.ts';
import { type Step, TURNS } from './misreading.ts';

/** The frame of a block: the table's, and what the design has for it. */
interface Frames {
  readonly own: Vec2;
  readonly ownRadius: number;
  readonly centre: Vec2;
  readonly radius: number;
}

interface Laying {
  /** Sets of steps that come to the same places. */
  readonly names: readonly (readonly Step[])[];
  readonly apply: (at: Vec2) => Vec2;
  /** Of a scale without a name. */
  readonly stretch: number | undefined;
  /** Of a centre that is elsewhere: from where the design has it. */
  readonly shift: Vec2 | undefined;
}

/** Two centres are one, against the radius: the table's last digits. */
const SAME_PLACE = 1e-9;
/** A scale with a name is so near to it, and a centre with one so near to its place: four digits of another unit. */
const NAMED_SCALE = 1e-4;
/** Radii are the same, and a centre is scaled as its radius is: nine decimals of a few mm. */
const SAME_SCALE = 1e-7;

/** Named ways in which the centre alone goes wrong. */
const CENTRES: readonly { readonly step: Step; readonly apply: (at: Vec2) => Vec2 }[] = [
  { step: 'centre-left-out', apply: () => [0, 0] },
  { step: 'centre-x-negated', apply: ([x, y]) => [-x, y] },
  { step: 'centre-y-negated', apply: ([x, y]) => [x, -y] },
  { step: 'centre-x-y-swapped', apply: ([x, y]) => [y, x] },
];

interface Scale {
  readonly by: number;
  readonly unit: (typeof LENGTH_UNITS)[number][0] | undefined;
}

/** Every way, the places as they are first. */
export function* layings(frames: Frames): Generator<Laying> {
  const { own, centre, radius } = frames;
  const scale = scaleOf(frames);
  for (const turn of TURNS) {
    const about = (stretch: number) => (at: Vec2) => {
      const [dx, dy] = turn.apply([at[0] - centre[0], at[1] - centre[1]]);
      return [own[0] + stretch * dx, own[1] + stretch * dy] as const;
    };
    const turned = turn.apply(centre);
    const shift: Vec2 = [own[0] - turned[0], own[1] - turned[1]];
    const laid = (names: readonly (readonly Step[])[], stretch: number, number?: number): Laying => ({
      names: names.map((steps) => [...turn.steps, ...steps]),
      apply: about(stretch),
      stretch: number,
      shift,
    });
    yield { names: [turn.steps], apply: turn.apply, stretch: undefined, shift: undefined };
    const moved = centreNames(own, turned, centre, radius);
    yield laid(moved, 1);
    for (const [step, by] of [
      ['radius-doubled', 2],
      ['radius-halved', 0.5],
    ] as const)
      yield laid(
        moved.map((steps) => [...steps, step]),
        by,
      );
    if (scale === undefined) continue;
    const number = scale.unit === undefined ? scale.by : undefined;
    const alone = scale.unit === undefined ? 'radius-scaled' : lengthStep('radius', scale.unit);
    const names = moved.map((steps): readonly Step[] => [...steps, alone]);
    if (isScaled(own, turned, scale, radius))
      names.push([scale.unit === undefined ? 'magnified' : lengthStep('lengths', scale.unit)]);
    yield laid(names, scale.by, number);
  }
}

/** By what the table's normalisation radius is the design's; undefined where it is the same, or doubled or halved. */
function scaleOf({ ownRadius, radius }: Frames): Scale | undefined {
  const by = ownRadius / radius;
  const near = (to: number, within: number): boolean => Math.abs(by / to - 1) <= within;
  if (near(1, SAME_SCALE) || near(2, SAME_SCALE) || near(0.5, SAME_SCALE)) return undefined;
  const named = LENGTH_UNITS.find(([, unit]) => near(unit, NAMED_SCALE));
  return { by, unit: named?.[0] };
}

/** Whether the whole frame went along with its radius. */
function isScaled(own: Vec2, turned: Vec2, { by, unit }: Scale, radius: number): boolean {
  const off = Math.hypot(own[0] - by * turned[0], own[1] - by * turned[1]);
  const size = by * (radius + Math.hypot(...turned));
  return off <= (unit === undefined ? SAME_SCALE : NAMED_SCALE) * size;
}

/** What became of the centre: nothing, one of the named ways, or it is elsewhere. */
function centreNames(own: Vec2, turned: Vec2, centre: Vec2, radius: number): readonly (readonly Step[])[] {
  const off = (to: Vec2): number => Math.hypot(own[0] - to[0], own[1] - to[1]);
  const isAt = (to: Vec2): boolean => off(to) <= SAME_PLACE * radius;
  const names: Step[][] = isAt(turned) || isAt(centre) ? [[]] : [];
  for (const { step, apply } of CENTRES) if (isAt(apply(centre))) names.push([step]);
  for (const [unit, by] of LENGTH_UNITS) {
    const to: Vec2 = [by * centre[0], by * centre[1]];
    if (off(to) <= NAMED_SCALE * Math.hypot(...to)) names.push([lengthStep('centre', unit)]);
  }
  return names.length > 0 ? names : [['centre-moved']];
}
