/**
 * What is out of place at the bench, as a word of the command line in YAML, such as `north: [0.02, 0, 0]`: by the name of a
 * reference three lengths, of `part` or `hologram` three lengths and three angles or the lengths alone. Numbers are mm and degrees; texts
 * have units and may use the scenario's parameters. Out come mm and radians.
 */
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { type Dimension, EXPONENTS } from '../../quantity/dimension.ts';
import { evaluateQuantity, type Scope } from '../../quantity/evaluate.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import type { Vec3 } from '../../scenario/placing.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';

export interface ReadDisplacement {
  /** Of a reference, or `part` or `hologram`. A reference of such a name goes before. */
  readonly name: string;
  readonly translation: Vec3;
  /** About x, y and z in turn; nothing for a reference. */
  readonly rotation: Vec3;
}

const BODIES = ['part', 'hologram'] as const;

/** A metre and half a turn: more is a slip of the pen. */
const MOST = { length: 1000, angle: Math.PI } as const;
const WORDS = { holds: 'displacement', start: 'e.g. `north: [0.02, 0, 0]`' };

/** `origin` names where the text was given, for messages. */
export function readDisplacements(
  text: string,
  origin: string,
  scenario: Scenario,
): { readonly displacements: readonly ReadDisplacement[]; readonly findings: readonly Finding[] } {
  if (text.trim() === '') {
    const finding = errorFinding('bad-value', origin, `${origin} is empty`, WORDS.start);
    return { displacements: [], findings: [finding] };
  }
  const { findings: yaml, data, places } = parseYaml(text, origin, WORDS);
  const findings: Finding[] = [...yaml];
  const say = (rule: Code, path: readonly (string | number)[], message: string, hint: string): void => {
    const place = rule === 'unknown-name' && path.length === 1 ? places.ofKey(path) : places.ofValue(path);
    findings.push(errorFinding(rule, path.join('.') || origin, message, hint, place));
  };
  const references = scenario.references.map(({ id }) => id);
  const scope = scopeOf(scenario);
  if (data === undefined) return { displacements: [], findings };
  if (!isObject(data)) {
    say('wrong-type', [], `${origin} is not a displacement`, `expected \`name: [values]\`, ${WORDS.start}`);
    return { displacements: [], findings };
  }
  const displacements = Object.entries(data).flatMap(([name, values]): ReadDisplacement[] => {
    const isReference = references.includes(name);
    if (!isReference && !BODIES.some((body) => body === name)) {
      const known = [...references, ...BODIES];
      const hint = didYouMean(name, known) ?? `known names: ${known.slice(0, MOST_NAMED).join(', ')}`;
      say('unknown-name', [name], `the scenario has no reference ${JSON.stringify(name)}`, hint);
      return [];
    }
    const counts = isReference ? [3] : [3, 6];
    if (!Array.isArray(values) || !counts.includes(values.length)) {
      const given = Array.isArray(values) ? `has ${values.length} values` : 'is not a list';
      const hint = isReference
        ? 'expected three lengths, [x, y, z]'
        : 'expected three lengths, or three lengths and three angles, [x, y, z, rx, ry, rz]';
      say('bad-value', [name], `\`${name}\` ${given}`, hint);
      return [];
    }
    const read = values.map((value: unknown, k) => {
      const dimension = k < 3 ? 'length' : 'angle';
      return numberOf(value, dimension, scope, (rule, message, hint) => say(rule, [name, k], message, hint));
    });
    if (read.includes(undefined)) return [];
    const [x, y, z, rx = 0, ry = 0, rz = 0] = read as number[];
    return [{ name, translation: [x!, y!, z!], rotation: [rx, ry, rz] }];
  });
  return { displacements, findings };
}

/** The scenario's parameters as expressions may use them; those of no single dimension are left out. */
function scopeOf({ parameters }: Scenario): Scope {
  const scope = new Map<string, Quantity>();
  for (const { name, value, dimension } of parameters) {
    if (dimension === 'other') continue;
    const celsius = dimension === 'temperature';
    scope.set(name, { value, exponents: EXPONENTS[dimension], celsius, bare: dimension === 'number' });
  }
  return scope;
}

/** Names in a hint. */
const MOST_NAMED = 14;

function numberOf(
  value: unknown,
  dimension: Dimension & keyof typeof MOST,
  scope: Scope,
  say: (rule: Code, message: string, hint: string) => void,
): number | undefined {
  const a = dimension === 'length' ? 'a length' : 'an angle';
  if (typeof value !== 'number' && typeof value !== 'string') {
    const hint = `expected a number in ${UNITS[dimension]}, or a string with a unit`;
    say('wrong-type', `${JSON.stringify(value)} is not ${a}`, hint);
    return undefined;
  }
  const { value: read, problem } = evaluateQuantity(value, dimension, scope);
  if (problem !== undefined) say(problem.code, problem.message, problem.hint);
  if (read === undefined) return undefined;
  if (Math.abs(read) <= MOST[dimension]) return read;
  const most = dimension === 'length' ? '1000 mm' : '180 deg';
  say('out-of-range', `${value} is too large`, `at most ${most} in either direction`);
  return undefined;
}

const UNITS = { length: 'mm', angle: 'degrees' } as const;
