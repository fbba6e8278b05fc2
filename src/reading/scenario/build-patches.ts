/** Patches and wishes. mm, radians. */
import type { Focus } from '../../kinds/kind.ts';
import { KINDS } from '../../kinds/kinds.ts';
import type { BiasWish, Patch, Wanted } from '../../scenario/scenario.ts';
import { assemble, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, listById } from '../yaml/identifiers.ts';
import { type Limits, point2, quantitiesGiven, quantity, word } from '../yaml/values.ts';
import { buildOutline } from './build-outline.ts';
import { referenceNamed } from './build-references.ts';

const FOCI = [...new Set(KINDS.flatMap(({ inScenario }) => inScenario.foci))];

/** Orders beyond carry no light worth having. */
const ORDERS: Limits = { atLeast: -100, atMost: 100 };
/** Bias fringes across a patch; a camera resolves far fewer. */
/** mm and rad: far less than any bench can tell, and the figures that follow from it still have their digits. */
const LENGTHS_WANTED: Limits = { atLeast: 1e-12 };
const ANGLES_WANTED: Limits = { atLeast: 1e-15 };
const FRINGES: Limits = { moreThan: 0, atMost: 1000 };

export const buildPatches = (
  list: Field,
  references: ReadonlySet<string> | undefined,
): Read<readonly Patch[]> => listById(list, (item) => buildPatch(item, references));

function buildPatch(field: Field, references: ReadonlySet<string> | undefined): Read<Patch> {
  const focus = word(field.get('focus'), FOCI);
  const centre = point2(field.get('centre'));
  return assemble<Patch>({
    id: identifier(field.get('id')),
    reference: referenceNamed(field.get('reference'), references),
    focus,
    centre,
    outline: buildOutline(field.get('outline'), centre),
    lineAngle: buildLineAngle(field, focus),
    order: buildOrder(field.get('order')),
    bias: field.get('bias').present ? buildBias(field.get('bias')) : undefined,
  });
}

function buildLineAngle(field: Field, focus: Read<Focus>): Read<number | undefined> {
  const given = field.get('lineAngle');
  const value = quantity(given, 'angle', {}, undefined);
  if (focus !== 'line' && focus !== FAULTY && given.present) {
    return given.report(
      'conflicting-keys',
      `a ${focus} focus has no line`,
      'remove `lineAngle`, or write `focus: line`',
    );
  }
  if (focus !== 'line' || given.present) return value;
  if (field.reading.misspelled(field.path, 'lineAngle')) return FAULTY;
  return field.report(
    'missing-key',
    'a line focus needs its `lineAngle`',
    'add one, e.g. `lineAngle: 90 deg`',
  );
}

export function buildOrder(field: Field): Read<number> {
  const order = quantity(field, 'number', ORDERS, 1);
  if (order === FAULTY || (Number.isInteger(order) && order !== 0)) return order;
  return field.report(
    'bad-value',
    `the order is ${order}`,
    'give a whole number other than 0, such as 1 or -1',
  );
}

const buildBias = (field: Field): Read<BiasWish> =>
  assemble<BiasWish>({
    shape: word(field.get('shape'), ['roof', 'tilt']),
    fringes: quantity(field.get('fringes'), 'number', FRINGES),
    direction: quantity(field.get('direction'), 'angle', {}, undefined),
  });

export const buildWanted = (field: Field): Read<Wanted> =>
  assemble<Wanted>({
    ...quantitiesGiven(field, ['x', 'y', 'z'], 'length', LENGTHS_WANTED),
    ...quantitiesGiven(field, ['rx', 'ry', 'rz'], 'angle', ANGLES_WANTED),
  });
