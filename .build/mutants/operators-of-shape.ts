/** Operators on the shape of the code: properties and functions swapped, elements, calls, conditions and defaults left out. */
import { type Edit, type EditsOf, span, textOf } from './edit.ts';
import { MATH, PROPERTIES } from './pairs.ts';
import type { Node } from './syntax.ts';

/** `Math.min(a, b)` to `Math.max(a, b)`; `a.width` to `a.height`. */
export const memberEdits: EditsOf = (node, parents, source) => {
  if ((node.type !== 'MemberExpression' && node.type !== 'OptionalMemberExpression') || node.computed)
    return [];
  if (node.property.type !== 'Identifier') return [];
  const { name } = node.property;
  if (node.object.type !== 'Identifier' || node.object.name !== 'Math') {
    const other = PROPERTIES.get(name);
    return other === undefined ? [] : [{ operator: 'property', ...span(node.property), text: other }];
  }
  const other = MATH.get(name);
  if (other === undefined) return [];
  if (other !== '') return [{ operator: 'function', ...span(node.property), text: other }];
  const call = parents.at(-1);
  if (call?.type !== 'CallExpression' || call.callee !== node) return [];
  return [{ operator: 'function', ...span(call), text: `(${textOf(source, call.arguments[0])})` }];
};

/** `{ min: a, max: b }` to `{ min: b, max: a }`, in patterns too. */
export const objectEdits: EditsOf = (node, _, source) => {
  if (node.type !== 'ObjectExpression' && node.type !== 'ObjectPattern') return [];
  const byName = new Map<string, Node>();
  for (const property of node.properties) {
    if (property.type !== 'ObjectProperty' || property.computed || property.key.type !== 'Identifier')
      continue;
    const taken = node.type === 'ObjectPattern' && property.value.type === 'AssignmentPattern';
    if (!taken) byName.set(property.key.name, property);
  }
  return [...PROPERTIES].flatMap(([name, other]) => {
    const [first, second] = [byName.get(name), byName.get(other)];
    if (first === undefined || second === undefined || first.start! > second.start!) return [];
    const text = `${withValueOf(source, first, second)}${source.slice(first.end!, second.start!)}${withValueOf(source, second, first)}`;
    return [{ operator: 'property', start: first.start!, end: second.end!, text }];
  });
};

function withValueOf(source: string, own: Node, other: Node): string {
  if (own.type !== 'ObjectProperty' || other.type !== 'ObjectProperty') throw new Error('not a property');
  return `${textOf(source, own.key)}: ${textOf(source, other.value)}`;
}

/** Lists from this length on are tables, whose rows may be left out; shorter ones of plain values are vectors. */
const TABLE = 4;

/** One element off a list; the first two of a pair or a triple swapped. */
export const arrayEdits: EditsOf = (node, _, source) => {
  if (node.type !== 'ArrayExpression' && node.type !== 'ArrayPattern') return [];
  const elements = node.elements.filter(
    (element): element is NonNullable<typeof element> => element !== null,
  );
  if (elements.length < 2 || elements.length < node.elements.length) return [];
  const edits: Edit[] = [];
  const [first, second] = elements;
  const bothPlain =
    first.type !== 'SpreadElement' && second.type !== 'SpreadElement' && second.type !== 'RestElement';
  const [one, other] = [textOf(source, first), textOf(source, second)];
  if (elements.length < TABLE && bothPlain && one !== other) {
    const text = `${other}${source.slice(first.end!, second.start!)}${one}`;
    edits.push({ operator: 'pair', start: first.start!, end: second.end!, text });
  }
  const isTable = (elements.length >= TABLE && !elements.every(isNumber)) || elements.some(isEntry);
  if (node.type === 'ArrayExpression' && isTable) {
    for (const [i, element] of elements.entries()) {
      const start = i === 0 ? element.start! : elements[i - 1].end!;
      const end = i === 0 ? elements[1].start! : element.end!;
      edits.push({ operator: 'element', start, end, text: '' });
    }
  }
  return edits;
};

const isEntry = ({ type }: Node): boolean =>
  type === 'ObjectExpression' ||
  type === 'ArrayExpression' ||
  type === 'StringLiteral' ||
  type === 'SpreadElement';

const isNumber = ({ type }: Node): boolean => type === 'NumericLiteral' || type === 'UnaryExpression';

/** A call for what it does, left out. */
export const callEdits: EditsOf = (node) =>
  node.type === 'ExpressionStatement' &&
  (node.expression.type === 'CallExpression' || node.expression.type === 'AwaitExpression')
    ? [{ operator: 'call', ...span(node), text: ';' }]
    : [];

export const conditionEdits: EditsOf = (node) => {
  if (node.type === 'WhileStatement') return [{ operator: 'condition', ...span(node.test), text: 'false' }];
  if (node.type !== 'IfStatement' && node.type !== 'ConditionalExpression') return [];
  return ['true', 'false'].map((text) => ({ operator: 'condition', ...span(node.test), text }));
};

/** `a ?? b` to `a!`. */
export const defaultEdits: EditsOf = (node, _, source) =>
  node.type === 'LogicalExpression' && node.operator === '??'
    ? [{ operator: 'default', ...span(node), text: `(${textOf(source, node.left)})!` }]
    : [];
