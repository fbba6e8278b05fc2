/**
 * A block with a misreading taken back that other patches of the table have: its frame the design's, its coefficients turned and divided
 * back, so that what else happened to its rows shows term by term. Places mm, values waves.
 */
import type { Pattern } from '../design/pattern.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { TableBlock } from '../scenario/coefficient-table.ts';
import { LENGTH_UNITS, lengthStep } from './length-steps.ts';
import type { Step } from './misreading.ts';
import { designFrame, type Explanation } from './misreading-search.ts';

/** Steps that put one factor before the phase of every patch alike: not those by the order, which is each patch's own. */
const FACTORS: readonly Step[] = [
  ...(['sign-flipped', 'radians-for-waves', 'waves-for-radians', 'degrees-for-waves'] as const),
  ...(['thousandths-for-waves', 'nanometres-for-waves', 'micrometres-for-waves'] as const),
  ...(['millimetres-for-waves', 'phase-doubled', 'phase-halved', 'scaled'] as const),
  ...(['vacuum-for-air', 'air-for-vacuum'] as const),
];
const TURNED: readonly Step[] = ['x-mirrored', 'y-mirrored', 'x-y-swapped'];

/** What a step makes of lengths, as a factor on the radius and on the centre. */
const SCALES: ReadonlyMap<Step, { readonly radius: number; readonly centre: number }> = new Map<
  Step,
  { readonly radius: number; readonly centre: number }
>([
  ['radius-doubled', { radius: 2, centre: 1 }],
  ['radius-halved', { radius: 0.5, centre: 1 }],
  ['centre-left-out', { radius: 1, centre: 0 }],
  ...LENGTH_UNITS.flatMap(
    ([unit, by]) =>
      [
        [lengthStep('lengths', unit), { radius: by, centre: by }],
        [lengthStep('radius', unit), { radius: by, centre: 1 }],
        [lengthStep('centre', unit), { radius: 1, centre: by }],
      ] as const,
  ),
]);

/** A frame is the one that the steps make of the design's: four digits of another unit. */
const SAME_FRAME = 1e-4;

/** Undefined where a step cannot be taken back from rows, or the block's frame is not what the steps make of the design's. */
export function takenBack(
  patch: Pattern,
  block: TableBlock,
  { steps, by, stretch }: Explanation,
): TableBlock | undefined {
  if (block.basis === 'roof') return undefined;
  const known = (step: Step): boolean =>
    FACTORS.includes(step) ||
    (TURNED.includes(step) && block.basis === 'xy') ||
    scaleOf(step, stretch) !== undefined;
  if (!steps.every(known)) return undefined;
  const { centre, radius } = designFrame(patch, block);
  const scales = steps.flatMap((step) => scaleOf(step, stretch) ?? []);
  const scale = (key: 'radius' | 'centre'): number => scales.reduce((all, own) => all * own[key], 1);
  const ownRadius = radius * scale('radius');
  const near = (length: number): boolean =>
    length <= SAME_FRAME * Math.max(ownRadius, Math.hypot(...block.centre));
  const isAt = ([x, y]: Vec2): boolean =>
    near(Math.hypot(block.centre[0] - scale('centre') * x, block.centre[1] - scale('centre') * y));
  const has = (step: Step): boolean => steps.includes(step);
  const [sx, sy] = [has('x-mirrored') ? -1 : 1, has('y-mirrored') ? -1 : 1];
  const swapped = has('x-y-swapped');
  // a pattern is mirrored where it stands, or with its place
  const turned: Vec2 = swapped ? [sx * centre[1], sy * centre[0]] : [sx * centre[0], sy * centre[1]];
  if (!near(Math.abs(block.unitRadius - ownRadius)) || !(isAt(centre) || isAt(turned))) return undefined;
  const terms = block.terms.map((term) => {
    const sign = (term.i % 2 === 0 ? 1 : sx) * (term.j % 2 === 0 ? 1 : sy);
    const [i, j] = swapped ? [term.j, term.i] : [term.i, term.j];
    return block.basis === 'xy'
      ? { ...term, i, j, coefficient: (sign * term.coefficient) / by }
      : { ...term, coefficient: term.coefficient / by };
  });
  return { ...block, centre, unitRadius: radius, terms };
}

function scaleOf(
  step: Step,
  stretch: number | undefined,
): { readonly radius: number; readonly centre: number } | undefined {
  if (stretch !== undefined && step === 'magnified') return { radius: stretch, centre: stretch };
  if (stretch !== undefined && step === 'radius-scaled') return { radius: stretch, centre: 1 };
  return SCALES.get(step);
}
