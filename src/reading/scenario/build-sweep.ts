/**
 * The word `sweep`: lists, ranges, cases and draws over the scenario's parameters. Lists and cases keep their values as written,
 * each case of a batch reads them itself; ranges and the laws of draws are worked out here, in the unit of the value's kind.
 */
import { describeExponents, dimensionOf } from '../../quantity/dimension.ts';
import { readQuantity, settled } from '../../quantity/evaluate.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import {
  type DrawnParameter,
  type Draws,
  MOST_CASES,
  type Sweep,
  type SweptCase,
  type SweptCases,
  type SweptList,
  type SweptValue,
} from '../../scenario/sweep.ts';
import {
  assemble,
  assembleList,
  exactlyOne,
  FAULTY,
  type Field,
  isObject,
  type Read,
} from '../yaml/field.ts';
import { identifier, uniqueIds } from '../yaml/identifiers.ts';
import { type Limits, quantity } from '../yaml/values.ts';

/** The key of a case, and the column of a table of cases, that names the case. */
export const CASE_NAME = 'case';

const COUNTS: Limits = { atLeast: 1, atMost: MOST_CASES };
/** A range that stops this part of a step short of its end still reaches it: its step may be rounded. */
const STEP_ROUNDING = 1e-9;

export function buildSweep(field: Field): Read<Sweep> {
  const [values, cases, draws] = [field.get('values'), field.get('cases'), field.get('draws')];
  const sweep = assemble<Sweep>({
    values: assembleList(values.entries().map(buildList)),
    cases: cases.present ? buildCases(cases) : undefined,
    draws: draws.present ? buildDraws(draws) : undefined,
  });
  if (sweep === FAULTY || givenTwice(field)) return FAULTY;
  const listed = sweep.cases !== undefined && 'list' in sweep.cases ? sweep.cases.list.length : 1;
  const count = sweep.values.reduce((product, list) => product * list.values.length, 1);
  const total = count * listed * (sweep.draws?.count ?? 1);
  if (total <= MOST_CASES) return sweep;
  return field.report(
    'too-many',
    `the sweep has ${total} cases`,
    `the limit is ${MOST_CASES}; split the scenario`,
  );
}

/** A sweep varies what the scenario has: a misspelt parameter would change nothing. */
function parameterNamed(field: Field): Read<string> {
  const { name, reading } = field;
  if (reading.scope.has(name)) return name;
  const known = [...reading.scope.keys()];
  const listed =
    known.length === 0
      ? 'add it to `parameters`, with the value that other commands use'
      : `known: ${known.slice(0, 20).join(', ')}`;
  const message = `there is no parameter \`${name.slice(0, 64)}\``;
  return field.report('unknown-name', message, didYouMean(name, known) ?? listed);
}

function buildList(field: Field): Read<SweptList> {
  const values = Array.isArray(field.value)
    ? assembleList(field.items().map(sweptValue))
    : isObject(field.value)
      ? buildRange(field)
      : FAULTY;
  return assemble<SweptList>({ parameter: parameterNamed(field), values });
}

const sweptValue = ({ value }: Field): Read<SweptValue> =>
  typeof value === 'string' || (typeof value === 'number' && Number.isFinite(value)) ? value : FAULTY;

function buildRange(field: Field): Read<readonly SweptValue[]> {
  const key = exactlyOne(field, ['count', 'step'], 'a spacing');
  const [from, to] = sameKind(field, ['from', 'to']);
  if (key === FAULTY || from === undefined || to === undefined) return FAULTY;
  const span = to.value - from.value;
  const at = (part: number): SweptValue => written(from.value + span * part, unitOf(from));
  if (key === 'count') {
    const count = wholeNumber(field.get('count'), { atLeast: 2, atMost: MOST_CASES });
    return count === FAULTY ? FAULTY : Array.from({ length: count }, (_, k) => at(k / (count - 1)));
  }
  const [, step] = sameKind(field, ['from', 'step']);
  if (step === undefined) return FAULTY;
  const steps = span / step.value;
  if (!(steps >= 0)) {
    const message = 'the step is 0 or leads away from `to`';
    return field.get('step').report('bad-value', message, 'give it the sign of `to` minus `from`');
  }
  if (steps > MOST_CASES) {
    return field
      .get('step')
      .report('too-many', `the range has ${Math.floor(steps)} steps`, 'use a larger step');
  }
  const count = Math.floor(steps + STEP_ROUNDING) + 1;
  return Array.from({ length: count }, (_, k) => written(from.value + step.value * k, unitOf(from)));
}

function buildCases(field: Field): Read<SweptCases> {
  if (typeof field.value === 'string') return { file: field.value };
  if (!Array.isArray(field.value)) return FAULTY;
  const items = field.items();
  uniqueIds(items.map((item) => item.get(CASE_NAME)));
  const list = assembleList(items.map(buildCase));
  return list === FAULTY ? FAULTY : { list };
}

function buildCase(field: Field): Read<SweptCase> {
  const name = field.get(CASE_NAME);
  const values = field.entries().filter((entry) => entry.name !== CASE_NAME);
  return assemble<SweptCase>({
    name: name.present ? identifier(name) : undefined,
    values: assembleList(values.map(caseValue)),
  });
}

function caseValue(field: Field): Read<readonly [parameter: string, value: SweptValue]> {
  const parameter = parameterNamed(field);
  const value = sweptValue(field);
  return parameter === FAULTY || value === FAULTY ? FAULTY : [parameter, value];
}

function buildDraws(field: Field): Read<Draws> {
  const seed = field.get('seed').value ?? 1;
  return assemble<Draws>({
    count: wholeNumber(field.get('count'), COUNTS),
    seed: typeof seed === 'string' || typeof seed === 'number' ? String(seed) : FAULTY,
    laws: assembleList(field.get('of').entries().map(buildLaw)),
  });
}

function buildLaw(field: Field): Read<DrawnParameter> {
  const key = exactlyOne(field, ['from', 'mean'], 'a distribution');
  const parameter = parameterNamed(field);
  if (key === FAULTY || parameter === FAULTY) return FAULTY;
  const [first, second] = sameKind(field, key === 'from' ? ['from', 'to'] : ['mean', 'deviation']);
  if (first === undefined || second === undefined) return FAULTY;
  const unit = unitOf(first);
  if (key === 'from')
    return { parameter, unit, law: { kind: 'uniform', from: first.value, to: second.value } };
  if (second.value >= 0) {
    return { parameter, unit, law: { kind: 'normal', mean: first.value, deviation: second.value } };
  }
  return field.get('deviation').report('out-of-range', 'the deviation is negative', 'give 0 or more');
}

/** The quantities at two keys of a field, reported where one is missing, faulty, or not of the kind of the other. */
function sameKind(field: Field, keys: readonly [string, string]): (Quantity | undefined)[] {
  const [first, second] = keys.map((key) => quantityAt(field, key));
  if (first === undefined || second === undefined) return [first, second];
  if (first.bare === second.bare && dimensionOf(first.exponents) === dimensionOf(second.exponents)) {
    if (dimensionOf(first.exponents) !== undefined) return [first, second];
    const hint = 'sweep a length, an angle or another plain quantity';
    field.report('unit-mismatch', `\`${keys[0]}\` is ${describeExponents(first.exponents)}`, hint);
    return [undefined, undefined];
  }
  const kinds = [first, second].map(({ bare, exponents }) =>
    bare ? 'a bare number' : describeExponents(exponents),
  );
  const message = `\`${keys[0]}\` is ${kinds[0]}, \`${keys[1]}\` is ${kinds[1]}`;
  field.report('unit-mismatch', message, 'give both the same kind of unit');
  return [undefined, undefined];
}

function quantityAt(field: Field, key: string): Quantity | undefined {
  const at = field.get(key);
  if (!at.present) {
    if (!field.reading.misspelled(field.path, key)) {
      at.report('missing-key', `\`${field.name}\` lacks \`${key}\``, `add \`${key}\``);
    }
    return undefined;
  }
  const given = sweptValue(at);
  if (given === FAULTY) return undefined;
  let found: Quantity | undefined;
  const { problem } = settled(() => {
    found = readQuantity(given, field.reading.scope);
    return found.value;
  });
  if (problem !== undefined) at.report(problem.code, problem.message, problem.hint);
  return found;
}

function wholeNumber(field: Field, limits: Limits): Read<number> {
  const value = quantity(field, 'number', limits);
  if (value === FAULTY || Number.isInteger(value)) return value;
  return field.report('bad-value', `\`${field.name}\` is ${value}`, 'give a whole number');
}

/** A parameter that two parts of a sweep vary would take one of the two values, whichever comes last. */
function givenTwice(field: Field): boolean {
  const cases = field.items('cases').flatMap((item) => item.entries());
  const inCases = new Map(cases.map((entry) => [entry.name, entry]));
  const parts = [
    field.get('values').entries(),
    [...inCases.values()],
    field.get('draws').get('of').entries(),
  ];
  const seen = new Set<string>();
  let twice = false;
  for (const entry of parts.flat()) {
    if (seen.has(entry.name)) {
      twice = true;
      entry.report(
        'conflicting-keys',
        `two sections of the sweep vary \`${entry.name}\``,
        'keep one of them',
      );
    }
    seen.add(entry.name);
  }
  return twice;
}

const UNITS = { length: 'mm', angle: 'rad', pressure: 'Pa', power: 'W', number: '' } as const;

function unitOf(quantity: Quantity): string {
  const dimension = dimensionOf(quantity.exponents) ?? 'number';
  return dimension === 'temperature' ? (quantity.celsius ? 'degC' : 'K') : UNITS[dimension];
}

/** Digits of a value that was computed: all that a double carries for certain, so that 2.7 + 0.1 k reads as it should. */
const DIGITS = 15;

/** A number in a unit as a scenario would write it. */
export function written(value: number, unit: string): SweptValue {
  const rounded = Number(value.toPrecision(DIGITS)) + 0;
  return unit === '' ? rounded : `${rounded} ${unit}`;
}
