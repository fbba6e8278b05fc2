/** The stage under the part: what one turn of each of its screws does. Part frame, mm and radians. */
import type { Vec3 } from '../../scenario/placing.ts';
import { DEGREES, type Degree, type StageAxis } from '../../scenario/scenario.ts';
import { assemble, exactlyOne, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, listById } from '../yaml/identifiers.ts';
import { direction3, type Limits, point3, quantity, word } from '../yaml/values.ts';

/** A whole turn of a screw moves less than this, mm and rad; the sign is the screw's hand. */
const PER_TURN: { readonly length: Limits; readonly angle: Limits } = {
  length: { atLeast: -100, atMost: 100 },
  angle: { atLeast: -Math.PI, atMost: Math.PI },
};

const AXES: Readonly<Record<'x' | 'y' | 'z', Vec3>> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };

export const buildStage = (list: Field): Read<readonly StageAxis[]> => listById(list, buildAxis);

function buildAxis(field: Field): Read<StageAxis> {
  const way = exactlyOne(field, ['degree', 'direction'], 'a direction of travel');
  const id = identifier(field.get('id'));
  if (way === FAULTY) return FAULTY;
  const degree = way === 'degree' ? word<Degree>(field.get('degree'), DEGREES) : undefined;
  if (degree === FAULTY) return FAULTY;
  const kind = degree?.startsWith('r') ? 'turns' : 'moves';
  const axis = degree?.at(-1) as keyof typeof AXES | undefined;
  const through = field.get('through');
  if (through.present && kind === 'moves')
    return through.report(
      'conflicting-keys',
      '`through` does not apply to a screw that translates the part',
      'remove it, or name one of rx, ry, rz as its `degree`',
    );
  return assemble<StageAxis>({
    id,
    kind,
    direction: axis === undefined ? direction3(field.get('direction')) : AXES[axis],
    through: point3(through, [0, 0, 0]),
    perTurn: perTurn(field.get('perTurn'), kind === 'turns' ? 'angle' : 'length'),
  });
}

function perTurn(field: Field, dimension: 'length' | 'angle'): Read<number> {
  const value = quantity(field, dimension, PER_TURN[dimension]);
  return value === 0
    ? field.report('out-of-range', '`perTurn` is 0', 'give a value, e.g. `500 um` or `200 urad`')
    : value;
}
