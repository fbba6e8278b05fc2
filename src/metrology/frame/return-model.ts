/**
 * What a patch would show on the camera, W(P*), about a state of the bench, and how that changes with each amount that a fit may find.
 *
 * mm, waves. The amounts of a focus are displacements of its reference, in units that show a fringe: along each sense, and along the line of a
 * roof, which no reading tells but which moves the roof's halves against each other. Of a ring they are the counts of its readings.
 * W and its changes are differences of traced returns (camera/fringe-picture-return.ts), so that the fringes are those that steering means.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import { add, scale } from '../../geometry/vector.ts';
import type { Bias } from '../../optics/bias.ts';
import { benchState } from '../camera/fringe-picture-displacements.ts';
import { type ReturnBranch, returnBranches, runOf } from '../camera/fringe-picture-return.ts';
import { isRing } from '../rings/ring-trace.ts';
import { rulerOf } from '../sensing/ring-count.ts';
import { EYE_SETTING, sensesOf } from '../sensing/sensitivity.ts';
import { tracedFringes } from '../sensing/traced-readings.ts';

type PlaceFunction = (x: number, y: number) => number;

/** The pixels of one side of a roof, or all. */
export interface ReturnPart {
  /** Sign of the run from the ridge at P*; 0 for what has no ridge. */
  readonly side: 1 | -1 | 0;
  readonly waves: PlaceFunction;
  /** ∂W for one more of each amount. */
  readonly shapes: readonly PlaceFunction[];
  /** Where the light at P* left the pattern. */
  readonly from: (x: number, y: number) => Vec2;
  /** How far from the ridge it left, mm, on the side that it belongs to; Infinity without a ridge. */
  readonly clearOfRidge: PlaceFunction;
  readonly returns: (x: number, y: number) => boolean;
}

export interface ReturnState {
  readonly amounts: readonly number[];
  readonly parts: readonly ReturnPart[];
  /** The reading at these amounts, and its change with each of them, row by row of the readings. */
  readonly readings: readonly number[];
  readonly rates: readonly (readonly number[])[];
}

export interface ReturnModel {
  /** How many of the amounts are read: the first ones. */
  readonly read: number;
  /** Standard deviation of each amount before anything is seen; Infinity for what is read. */
  readonly spread: readonly number[];
  /** Undefined where too little light comes back. */
  readonly about: (amounts: readonly number[]) => ReturnState | undefined;
  /** W is linear in the amounts: it is the same about any. */
  readonly linear: boolean;
  /** The patch has a roof, whose fringes it shows wherever its reference stands. */
  readonly roofed: boolean;
}

const kept = new WeakMap<
  DesignedPatch,
  { readonly design: Design; readonly model: ReturnModel | undefined }
>();

/** Undefined for a screen. */
export function returnModel(design: Design, patch: DesignedPatch): ReturnModel | undefined {
  const known = kept.get(patch);
  if (known?.design === design) return known.model;
  const model = isRing(patch) ? ringModel(design, patch) : focusModel(design, patch);
  kept.set(patch, { design, model });
  return model;
}

/** Part of its unit by which an amount is changed to see what it does: small beside what bends W, large beside the error of a branch. */
const STEP = 1;
/** A roof's halves part faster. */
const STEP_ALONG = 0.25;

function focusModel(design: Design, patch: DesignedPatch): ReturnModel | undefined {
  const counts = tracedFringes(design, patch);
  if (counts === undefined) return undefined;
  const senses = sensesOf(design, patch);
  const units: Vec3[] = senses.map(({ direction, fringesPerMm }) => scale(direction, 1 / fringesPerMm));
  const steps = units.map(() => STEP);
  const spread = units.map(() => Number.POSITIVE_INFINITY);
  const { bias, lineDirection } = patch;
  if (bias?.shape === 'roof' && lineDirection !== undefined) {
    const perFringe = bias.reach / Math.abs(bias.fringes);
    units.push(scale(lineDirection, perFringe));
    steps.push(STEP_ALONG);
    spread.push(EYE_SETTING.poor / perFringe);
  }
  const displacement = (amounts: readonly number[]): Vec3 =>
    units.reduce((sum, unit, k) => add(sum, scale(unit, amounts[k]!)), [0, 0, 0] as Vec3);
  const branchesAt = (amounts: readonly number[]): readonly ReturnBranch[] =>
    returnBranches(
      design,
      patch,
      benchState(design, { references: new Map([[patch.reference.id, displacement(amounts)]]) }),
    );
  const workedOut = (amounts: readonly number[]): ReturnState | undefined => {
    const here = unpistoned(patch, partsOf(patch, branchesAt(amounts)));
    const readings = counts(displacement(amounts));
    if (here === undefined || readings === undefined) return undefined;
    const beside = units.map((_, k) => {
      const stepped = amounts.map((amount, n) => (n === k ? amount + steps[k]! : amount));
      return {
        parts: unpistoned(patch, partsOf(patch, branchesAt(stepped))),
        readings: counts(displacement(stepped)),
      };
    });
    if (beside.some(({ parts, readings }) => parts === undefined || readings === undefined)) return undefined;
    return {
      amounts,
      readings,
      rates: readings.map((reading, row) =>
        units.map((_, k) => (beside[k]!.readings![row]! - reading) / steps[k]!),
      ),
      parts: here.map((part, number) => ({
        ...part,
        shapes: units.map((_, k): PlaceFunction => {
          const moved = beside[k]!.parts![number]!.waves;
          return (x, y) => (moved(x, y) - part.waves(x, y)) / steps[k]!;
        }),
      })),
    };
  };
  let atPlace: ReturnState | undefined;
  return {
    read: senses.length,
    spread,
    linear: false,
    roofed: bias?.shape === 'roof',
    about: (amounts) => {
      if (amounts.some((amount) => amount !== 0)) return workedOut(amounts);
      atPlace ??= workedOut(amounts);
      return atPlace;
    },
  };
}

/** W less its mean over the parts at the middle of the patch: a move along the light changes it by thousands of waves, which no fringes show. */
function unpistoned(
  { centre }: DesignedPatch,
  parts: readonly Omit<ReturnPart, 'shapes'>[] | undefined,
): readonly Omit<ReturnPart, 'shapes'>[] | undefined {
  if (parts === undefined) return undefined;
  const piston = parts.reduce((sum, { waves }) => sum + waves(...centre), 0) / parts.length;
  return parts.map((part) => ({ ...part, waves: (x, y) => part.waves(x, y) - piston }));
}

/** The light of each side of the ridge; undefined where one gets none. */
function partsOf(
  { bias, order }: DesignedPatch,
  branches: readonly ReturnBranch[],
): readonly Omit<ReturnPart, 'shapes'>[] | undefined {
  const isRoof = bias?.shape === 'roof';
  const sides: readonly ReturnPart['side'][] = isRoof ? [1, -1] : [0];
  const parts = sides.map((side): Omit<ReturnPart, 'shapes'> | undefined => {
    const branch = isRoof ? branches.find((each) => isLitFrom(each, bias, side)) : branches[0];
    if (branch === undefined) return undefined;
    const perRun = bias === undefined ? 0 : (order * bias.amplitude * (isRoof ? side : 1)) / bias.reach;
    return {
      side,
      waves: (x, y) => branch.waves.at(x, y) + (bias === undefined ? 0 : perRun * runOf(bias, x, y)),
      from: (x, y) => fromOf(branch, x, y),
      clearOfRidge: (x, y) =>
        isRoof
          ? Math.min((branch.side || side) * runOf(bias, ...fromOf(branch, x, y)), side * runOf(bias, x, y)) /
            Math.hypot(...bias.direction)
          : Number.POSITIVE_INFINITY,
      returns: (x, y) => branch.returns?.(...fromOf(branch, x, y)) !== false,
    };
  });
  return parts.every((part) => part !== undefined) ? parts : undefined;
}

const fromOf = ({ fromX, fromY }: ReturnBranch, x: number, y: number): Vec2 => [
  fromX.at(x, y),
  fromY.at(x, y),
];

/** Whether a branch's light comes back to a side of the ridge: a cube turns the run along its line round. */
function isLitFrom(branch: ReturnBranch, bias: Bias, side: number): boolean {
  const [ahead, behind] = [1, -1].map((way) => runOf(bias, ...fromOf(branch, ...atReach(bias, way)))) as [
    number,
    number,
  ];
  return branch.side === 0 || branch.side * Math.sign(ahead - behind) === side;
}

function atReach({ centre, direction, reach }: Bias, way: number): Vec2 {
  const run = (way * reach) / (direction[0] ** 2 + direction[1] ** 2);
  return [centre[0] + run * direction[0], centre[1] + run * direction[1]];
}

/** What a datum feature's return may show beside what is counted, fringes at the edge. */
const BESIDE_COUNTS = 0.5;

/** Counts as sensing/ring-count.ts has them: W = −n (x − x₀)/D_x and so on. */
function ringModel(design: Design, patch: DesignedPatch): ReturnModel | undefined {
  const parts = partsOf(patch, returnBranches(design, patch, benchState(design, {})));
  if (parts === undefined) return undefined;
  const {
    middle: [mx, my],
    widths: [dx, dy],
    radii: [inner, outer],
  } = rulerOf(patch.outline);
  const counted: readonly PlaceFunction[] = [
    (x) => -(x - mx) / dx,
    (_, y) => -(y - my) / dy,
    (x, y) => -((x - mx) ** 2 + (y - my) ** 2) / (outer ** 2 - inner ** 2),
  ];
  const beside: readonly PlaceFunction[] =
    patch.normalIncidence === undefined
      ? []
      : [
          (x, y) => ((x - mx) ** 2 - (y - my) ** 2) / outer ** 2,
          (x, y) => (2 * (x - mx) * (y - my)) / outer ** 2,
        ];
  const shapes = [...counted, ...beside];
  const state: ReturnState = {
    amounts: shapes.map(() => 0),
    readings: [0, 0, 0],
    rates: counted.map((_, row) => shapes.map((_, k) => (k === row ? 1 : 0))),
    parts: parts.map((part) => ({ ...part, shapes })),
  };
  return {
    read: counted.length,
    spread: shapes.map((_, k) => (k < counted.length ? Number.POSITIVE_INFINITY : BESIDE_COUNTS)),
    about: () => state,
    linear: true,
    roofed: false,
  };
}
