/**
 * From a move of the part to turns of the stage's screws: the least turns that come nearest to it, rotations counted at the
 * part's size. mm, radians, part frame about its origin; small motions, so that the order of the screws does not matter.
 */
import { singularValues } from '../../algebra/singular-values.ts';
import { cross, scale, type Vec3 } from '../../geometry/vector.ts';
import type { StageAxis } from '../../scenario/scenario.ts';
import type { Displacement } from './steering-part.ts';
import { times } from './steering-solve.ts';

interface StageTurns {
  /** Whole turns, one a screw, in the scenario's order. */
  readonly turns: Float64Array;
  /** What the screws cannot do of the move. */
  readonly left: Displacement;
  /** Screws × 6, row-major: turns for each mm of x, y, z and each mm (radians times the size) of rx, ry, rz. */
  readonly gains: Float64Array;
}

/** Combinations of screws that move the part this much less than others, a turn, move it nowhere. */
const DEPENDENT = 1e-9;

/** Of at least one screw. */
export function stageTurns(stage: readonly StageAxis[], move: Displacement, size: number): StageTurns {
  const columns = screwMotions(stage, size);
  const rows = Float64Array.from([0, 1, 2, 3, 4, 5].flatMap((k) => columns.map((column) => column[k]!)));
  const gains = pseudoInverse(rows, stage.length);
  const wanted = Float64Array.from(sixOf(move, size));
  const turns = times(gains, stage.length, wanted);
  const reached = times(rows, 6, turns);
  const left = wanted.map((value, k) =>
    Math.abs(value - reached[k]!) < LEFT_NOTHING ? 0 : value - reached[k]!,
  );
  return {
    turns,
    left: {
      translation: [left[0]!, left[1]!, left[2]!],
      rotation: scale([left[3]!, left[4]!, left[5]!], 1 / size),
    },
    gains,
  };
}

/** What one turn of each screw does: mm of x, y, z and radians times the size of rx, ry, rz. */
export const screwMotions = (stage: readonly StageAxis[], size: number): readonly (readonly number[])[] =>
  stage.map((axis) => sixOf(motionOfTurn(axis), size));

/**
 * The moves that an operator makes one by one for a move of the part, each with an error of its own: what each screw does of it, or without a
 * stage each degree of freedom.
 */
export function singleMoves(
  stage: readonly StageAxis[],
  move: Displacement,
  size: number,
): readonly Displacement[] {
  if (stage.length > 0) {
    const { turns } = stageTurns(stage, move, size);
    return stage.map((axis, s) => {
      const { translation, rotation } = motionOfTurn(axis);
      return { translation: scale(translation, turns[s]!), rotation: scale(rotation, turns[s]!) };
    });
  }
  return [0, 1, 2].flatMap((axis) => [
    { translation: alongAxis(move.translation, axis), rotation: [0, 0, 0] as const },
    { translation: [0, 0, 0] as const, rotation: alongAxis(move.rotation, axis) },
  ]);
}

/** What of a vector is along one axis. */
export const alongAxis = (vector: Vec3, axis: number): Vec3 =>
  vector.map((value, k) => (k === axis ? value : 0)) as unknown as Vec3;

/** Less than this is rounding, mm. */
const LEFT_NOTHING = 1e-9;

/** One turn: a rotation about an axis through p takes the part's origin along too, T = p × θ. */
export function motionOfTurn({ kind, direction, through, perTurn }: StageAxis): Displacement {
  const along = scale(direction, perTurn);
  if (kind === 'moves') return { translation: along, rotation: [0, 0, 0] };
  return { translation: cross(through, along), rotation: along };
}

/** x, y, z, and rx, ry, rz as lengths at the part's size. */
export const sixOf = ({ translation, rotation }: Displacement, size: number): readonly number[] => [
  ...translation,
  ...(rotation.map((angle) => angle * size) as unknown as Vec3),
];

/** Σ v (A v)ᵀ/σ² over the directions v that move anything: columns × 6. */
function pseudoInverse(rows: Float64Array, columns: number): Float64Array {
  const { values, directions } = singularValues(rows, columns);
  const inverse = new Float64Array(columns * 6);
  directions.forEach((v, k) => {
    if (!(values[k]! > DEPENDENT * values[0]!)) return;
    const image = times(rows, 6, v);
    for (let i = 0; i < columns; i++)
      for (let j = 0; j < 6; j++) inverse[i * 6 + j]! += (v[i]! * image[j]!) / values[k]! ** 2;
  });
  return inverse;
}
