/**
 * The scenario's parameters: names for expressions, which may refer to each other in any order. A loop is named whole.
 */
import { type Dimension, dimensionOf } from './dimension.ts';
import { LITERAL, NAME, readQuantity, settled } from './evaluate.ts';
import { namesIn, type Scope } from './expression.ts';
import { FUNCTION_NAMES } from './function.ts';
import { parse } from './parse-expression.ts';
import { type Problem, ProblemError, quote } from './problem.ts';
import { type Quantity, ZERO_CELSIUS_IN_KELVIN } from './quantity.ts';
import { commonUnit } from './unit.ts';

export interface ResolvedParameters {
  readonly scope: Scope;
  /** By the parameter's name; one at most for each. */
  readonly problems: ReadonlyMap<string, Problem>;
}

/**
 * Values of all parameters, in mm, rad and so on. `faulty` are names whose values are no texts or numbers, which somebody
 * else reports. Never throws.
 */
export function resolveParameters(
  given: ReadonlyMap<string, string | number>,
  faulty: Iterable<string> = [],
): ResolvedParameters {
  const scope = new Map<string, Quantity | 'faulty'>([...faulty].map((name) => [name, 'faulty']));
  const problems = new Map<string, Problem>();
  const settle = (name: string): void => {
    const { problem } = settled(() => {
      const quantity = readQuantity(given.get(name)!, scope);
      scope.set(name, quantity);
      return quantity.value;
    });
    if (problem !== undefined) problems.set(name, problem);
    if (!scope.has(name)) scope.set(name, 'faulty');
  };

  for (const name of given.keys()) {
    const problem = nameProblem(name);
    if (problem !== undefined) problems.set(name, problem);
  }
  const usable = new Map([...given].filter(([name]) => !problems.has(name)));
  const uses = new Map(
    [...usable].map(([name, text]) => [name, namesUsed(text).filter((used) => usable.has(used))]),
  );
  for (const start of uses.keys()) {
    // Depth first without recursion: `path` is the chain of parameters that wait for one another.
    const path = scope.has(start) ? [] : [start];
    while (path.length > 0) {
      const name = path.at(-1)!;
      const next = uses.get(name)!.find((used) => !scope.has(used));
      if (next === undefined) settle(path.pop()!);
      else if (path.includes(next)) breakLoop(path.slice(path.indexOf(next)), scope, problems);
      else path.push(next);
      while (path.length > 0 && scope.has(path.at(-1)!)) path.pop();
    }
  }
  return { scope: inOrder(uses.keys(), scope), problems };
}

/** What a resolved parameter measures: one of the plain dimensions, or `other` for a product such as an area. */
export function parameterValue(quantity: Quantity): { value: number; dimension: Dimension | 'other' } {
  const dimension = dimensionOf(quantity.exponents) ?? 'other';
  const kelvin = dimension === 'temperature' && !quantity.celsius;
  return { value: kelvin ? quantity.value - ZERO_CELSIUS_IN_KELVIN : quantity.value, dimension };
}

const RESERVED = [
  'pi',
  'true',
  'false',
  'null',
  'undefined',
  'NaN',
  'Infinity',
  'mod',
  'to',
  'in',
  'and',
  'xor',
  'or',
  'not',
  'end',
];

/** Why a name cannot be a parameter's; undefined if it can. */
function nameProblem(name: string): Problem | undefined {
  if (!NAME.test(name)) {
    return {
      code: 'bad-id',
      message: `the parameter's name ${quote(name)} cannot be used in an expression`,
      hint: 'use at most 64 letters, digits and _; start with a letter',
    };
  }
  const unit = commonUnit(name);
  const taken =
    unit !== undefined
      ? `a unit of ${unit.dimension}`
      : FUNCTION_NAMES.includes(name)
        ? 'a function'
        : RESERVED.includes(name)
          ? 'a reserved word'
          : undefined;
  if (taken === undefined) return undefined;
  return {
    code: 'bad-id',
    message: `the parameter's name \`${name}\` is already ${taken} in expressions`,
    hint: `choose another name, e.g. \`${name}_1\``,
  };
}

/** The names that an expression uses; none for one that cannot be read, whose own problem comes up later. */
function namesUsed(text: string | number): readonly string[] {
  if (typeof text === 'number') return [];
  const trimmed = text.trim();
  if (NAME.test(trimmed)) return [trimmed];
  if (LITERAL.test(trimmed)) return [];
  try {
    return [...namesIn(parse(trimmed))];
  } catch (error) {
    if (error instanceof ProblemError) return [];
    throw error;
  }
}

function breakLoop(
  loop: readonly string[],
  scope: Map<string, Quantity | 'faulty'>,
  problems: Map<string, Problem>,
): void {
  for (const name of loop) scope.set(name, 'faulty');
  const shown = loop.length > 12 ? [...loop.slice(0, 11), '…'] : loop;
  problems.set(loop[0]!, {
    code: 'parameter-cycle',
    message:
      loop.length === 1
        ? `the parameter \`${loop[0]}\` refers to itself`
        : `the parameters refer to each other in a loop: ${[...shown, loop[0]].join(' -> ')}`,
    hint: 'give one of them a value that does not depend on the others',
  });
}

/** Sorted as the file has them, the faulty ones last. */
const inOrder = (names: Iterable<string>, scope: Scope): Scope =>
  new Map([...new Set([...names, ...scope.keys()])].map((name) => [name, scope.get(name)!]));
