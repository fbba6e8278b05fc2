/**
 * All that the program takes from mathjs: its parser and its table of units, built on first use from their factories
 * alone. The factories get plain-number arithmetic and the small nodes below instead of mathjs's own type system, which
 * keeps big numbers, fractions, matrices and every built-in function out of the program: nothing here can be evaluated,
 * only read. A bundle carries 0.1 MB instead of 0.7 MB and starts in a few milliseconds.
 */
import { createParse, createUnitClass } from 'mathjs';
import type { Dimension } from './dimension.ts';
import { raised } from './power.ts';
import { ProblemError } from './problem.ts';

/** A node of a parsed expression. */
export type ExpressionNode =
  | { readonly type: 'number'; readonly value: number }
  | { readonly type: 'name'; readonly name: string }
  | {
      readonly type: 'operation';
      readonly op: string;
      readonly fn: string;
      readonly args: readonly ExpressionNode[];
      /** A product without its sign, such as `5 mm`. */
      readonly implicit: boolean;
    }
  | { readonly type: 'call'; readonly name: string; readonly args: readonly ExpressionNode[] }
  | { readonly type: 'parenthesis'; readonly content: ExpressionNode };

/** The tree of an expression. Throws a ProblemError for a refused construct, a SyntaxError for a text without sense. */
export function parseExpression(text: string): ExpressionNode {
  parser ??= createParse({
    typed: Object.assign((_: string, signatures: { string: unknown }) => signatures.string, {
      addConversion() {},
    }),
    numeric: plainNumber,
    config: { number: 'number' },
    ...nodes(),
    ...refusedNodes(),
  }) as (text: string) => ExpressionNode;
  return parser(text);
}

/** What `name` measures and how many of the program's units (mm, rad, K, Pa, W) it holds; undefined for no such unit. */
export function unitFromMathjs(name: string): { dimension: Dimension; factor: number } | undefined {
  units ??= createUnitClass({
    config: { number: 'number', predictable: false },
    addScalar: (a: number, b: number) => a + b,
    subtractScalar: (a: number, b: number) => a - b,
    multiplyScalar: (a: number, b: number) => a * b,
    divideScalar: (a: number, b: number) => a / b,
    pow: raised,
    abs: Math.abs,
    fix: Math.trunc,
    round: Math.round,
    equal: (a: number, b: number) => a === b,
    isNumeric: (a: unknown) => typeof a === 'number',
    format: String,
    number: Number,
    Complex: Absent,
    BigNumber: Absent,
    Fraction: Absent,
  }) as UnitClass;
  if (!units.isValuelessUnit(name)) return undefined;
  const one = new units(1, name);
  if (one.units.some(({ unit }) => unit.offset !== 0)) return undefined;
  for (const [dimension, own] of OWN_UNITS) {
    if (one.equalBase(new units(1, own))) return { dimension, factor: one.toNumber(own) };
  }
  return undefined;
}

const OWN_UNITS: readonly (readonly [Dimension, string])[] = [
  ['length', 'mm'],
  ['angle', 'rad'],
  ['temperature', 'K'],
  ['pressure', 'Pa'],
  ['power', 'W'],
];

interface UnitOfMathjs {
  readonly units: readonly { readonly unit: { readonly offset: number } }[];
  equalBase(other: UnitOfMathjs): boolean;
  toNumber(unit: string): number;
}
interface UnitClass {
  new (value: number, unit: string): UnitOfMathjs;
  isValuelessUnit(name: string): boolean;
}

let parser: ((text: string) => ExpressionNode) | undefined;
let units: UnitClass | undefined;

/** A class of nodes that mathjs's parser recognises by `flag` and `isNode`; a node holds what `read` makes of its arguments. */
function nodeClass<A extends unknown[]>(flag: string, read: (...args: A) => ExpressionNode): unknown {
  class ParsedNode {
    constructor(...args: A) {
      Object.assign(this, read(...args), { [flag]: true });
    }
  }
  Object.defineProperty(ParsedNode.prototype, 'isNode', { value: true, writable: true });
  return ParsedNode;
}

const nodes = (): Record<string, unknown> => ({
  ConstantNode: nodeClass('isConstantNode', (value: unknown) => {
    if (typeof value === 'number') return { type: 'number', value };
    throw refusal(typeof value === 'string' ? 'an index or a property' : `the word ${value}`);
  }),
  SymbolNode: nodeClass('isSymbolNode', (name: string) => ({ type: 'name', name })),
  OperatorNode: nodeClass(
    'isOperatorNode',
    (op: string, fn: string, args: readonly ExpressionNode[], implicit?: boolean) => {
      return { type: 'operation', op, fn, args, implicit: implicit === true };
    },
  ),
  FunctionNode: nodeClass('isFunctionNode', (callee: ExpressionNode, args: readonly ExpressionNode[]) => {
    if (callee.type === 'name') return { type: 'call', name: callee.name, args };
    throw refusal('a call of anything but a named function');
  }),
  ParenthesisNode: nodeClass('isParenthesisNode', (content: ExpressionNode) => {
    return { type: 'parenthesis', content };
  }),
});

/** Stands for the number types that the program leaves out. */
class Absent {}

function refusedNodes(): Record<string, unknown> {
  const names = {
    AccessorNode: 'an index or a property',
    ArrayNode: 'a list',
    AssignmentNode: 'an assignment',
    BlockNode: 'several expressions in one',
    ConditionalNode: 'a conditional',
    FunctionAssignmentNode: 'a function definition',
    IndexNode: 'an index or a property',
    ObjectNode: 'an object',
    RangeNode: 'a range',
    RelationalNode: 'a comparison',
  };
  const refusing = (what: string): unknown =>
    nodeClass('', () => {
      throw refusal(what);
    });
  return Object.fromEntries(Object.entries(names).map(([node, what]) => [node, refusing(what)]));
}

/** `what` has no place in an expression. */
export function refusal(what: string): ProblemError {
  return new ProblemError(
    'bad-expression',
    `an expression cannot contain ${what}`,
    'use + - * / ^, parentheses, numbers with units, parameters, pi and sqrt abs min max hypot sin cos tan asin acos atan atan2',
  );
}

function plainNumber(text: string): number {
  if (!/^(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(text)) throw refusal(`the number ${text}`);
  return Number(text);
}

declare module 'mathjs' {
  /** The factory of the parser; exported by mathjs, missing from its types. */
  export function createParse(parts: Record<string, unknown>): unknown;
  /** The factory of the class of units; exported by mathjs, missing from its types. */
  export function createUnitClass(parts: Record<string, unknown>): unknown;
}
