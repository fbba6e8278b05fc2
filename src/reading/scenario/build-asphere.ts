/** An asphere of the part's datums: its vertex, its frame, and its sag's figures by ISO 10110-12. Part frame, mm. */
import type { Asphere } from '../../scenario/datum.ts';
import { squaredUp, type Vec3 } from '../../scenario/placing.ts';
import { azimuthDirection } from '../../scenario/touch-condition.ts';
import { assembleList, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { direction3, length, point3, quantity } from '../yaml/values.ts';
import { buildGrid, buildXy, buildZernike } from './build-freeform.ts';

type Parts = { readonly [K in keyof Omit<Asphere, 'id' | 'kind'>]: Read<Asphere[K]> };

/** Powers of h that have a term: even ones. */
const MOST_POWER = 40;

export function buildAsphere(field: Field): Parts {
  const axis = direction3(field.get('axis'));
  return {
    vertex: point3(field.get('vertex')),
    axis,
    x: ownX(field.get('x'), axis),
    radius: field.get('radius').present ? radiusOf(field.get('radius')) : undefined,
    conic: quantity(field.get('conic'), 'number', {}, 0),
    terms: assembleList(field.get('terms').entries().map(buildTerm)),
    xy: buildXy(field.get('xy')),
    ...(field.get('zernike').present ? { zernike: buildZernike(field.get('zernike')) } : {}),
    ...(field.get('grid').present ? { grid: buildGrid(field.get('grid')) } : {}),
    // Toward the hologram; build-part.ts turns it where the part's frame shows the other side.
    faces: '-',
  };
}

function ownX(field: Field, axis: Read<Vec3>): Read<Vec3> {
  if (axis === FAULTY) return FAULTY;
  if (!field.present) return azimuthDirection(axis, 0);
  const given = direction3(field);
  if (given === FAULTY) return FAULTY;
  return (
    squaredUp(given, axis) ??
    field.report('bad-value', '`x` is not perpendicular to the axis', 'give a direction square to `axis`')
  );
}

function radiusOf(field: Field): Read<number> {
  const radius = length(field);
  if (radius !== 0) return radius;
  return field.report(
    'out-of-range',
    '`radius` is 0',
    'leave it out for a surface that is flat but for its terms',
  );
}

function buildTerm(field: Field): Read<Asphere['terms'][number]> {
  const coefficient = quantity(field, 'number');
  const power = Number(field.name);
  if (!Number.isInteger(power) || power < 2 || power > MOST_POWER || power % 2 !== 0)
    return field
      .key()
      .report('bad-value', `there is no term h^${field.name}`, `even powers from 2 to ${MOST_POWER}`);
  return coefficient === FAULTY ? FAULTY : { power, coefficient };
}
