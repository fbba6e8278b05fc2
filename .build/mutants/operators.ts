/**
 * The mutation operators: what a node of the source is replaced by, one table for all. A replacement is an edit of the text, so that
 * the rest of the file stays as it is.
 */
import { type Edit, type EditsOf, span, textOf } from './edit.ts';
import {
  arrayEdits,
  callEdits,
  conditionEdits,
  defaultEdits,
  memberEdits,
  objectEdits,
} from './operators-of-shape.ts';
import { textEdits, unitKeyEdits } from './operators-of-text.ts';
import type { Node } from './syntax.ts';

const ARITHMETIC: Record<string, string> = { '+': '-', '-': '+', '*': '/', '/': '*', '%': '*', '**': '*' };
const COMPARISON: Record<string, readonly string[]> = {
  '<': ['<=', '>'],
  '<=': ['<', '>='],
  '>': ['>=', '<'],
  '>=': ['>', '<='],
  '===': ['!=='],
  '!==': ['==='],
};
const LOGICAL: Record<string, string> = { '&&': '||', '||': '&&' };
const ASSIGNMENT: Record<string, string> = { '+=': '-=', '-=': '+=', '*=': '/=', '/=': '*=' };

/** The operator's sign between its two sides. */
function signEdit(
  source: string,
  left: Node,
  right: Node,
  sign: string,
  operator: string,
  text: string,
): Edit {
  const start = source.indexOf(sign, left.end!);
  if (start < 0 || start >= right.start!) throw new Error(`no ${sign} between two sides`);
  return { operator, start, end: start + sign.length, text };
}

const isText = (node: Node): boolean =>
  node.type === 'StringLiteral' ||
  node.type === 'TemplateLiteral' ||
  (node.type === 'BinaryExpression' && node.operator === '+' && (isText(node.left) || isText(node.right)));

const binaryEdits: EditsOf = (node, _, source) => {
  if (node.type === 'AssignmentExpression' && node.operator in ASSIGNMENT && !isText(node.right)) {
    const { left, right, operator } = node;
    return [signEdit(source, left, right, operator, 'arithmetic', ASSIGNMENT[operator])];
  }
  if (node.type === 'LogicalExpression' && node.operator in LOGICAL) {
    return [signEdit(source, node.left, node.right, node.operator, 'logical', LOGICAL[node.operator])];
  }
  if (node.type !== 'BinaryExpression') return [];
  const { left, right, operator } = node;
  if (operator in ARITHMETIC && !isText(node)) {
    return [signEdit(source, left, right, operator, 'arithmetic', ARITHMETIC[operator])];
  }
  return (COMPARISON[operator] ?? []).map((text) =>
    signEdit(source, left, right, operator, 'comparison', text),
  );
};

const signEdits: EditsOf = (node, _, source) =>
  node.type === 'UnaryExpression' && node.operator === '-'
    ? [{ operator: 'sign', ...span(node), text: textOf(source, node.argument) }]
    : [];

const booleanEdits: EditsOf = (node) =>
  node.type === 'BooleanLiteral' ? [{ operator: 'boolean', ...span(node), text: String(!node.value) }] : [];

const numberEdits: EditsOf = (node, parents, source) => {
  if (node.type !== 'NumericLiteral') return [];
  const parent = parents.at(-1);
  const isKey = parent?.type === 'ObjectProperty' && parent.key === node && !parent.computed;
  if (isKey) return [];
  const isIndex = parent?.type === 'MemberExpression' && parent.property === node;
  if (isIndex && node.value > 1) return [];
  const text = node.value === 0 ? '1' : node.value === 1 ? '0' : `(${textOf(source, node)} * 2)`;
  return [{ operator: isIndex ? 'index' : 'number', ...span(node), text }];
};

const OPERATORS: readonly EditsOf[] = [
  binaryEdits,
  signEdits,
  booleanEdits,
  numberEdits,
  memberEdits,
  objectEdits,
  arrayEdits,
  callEdits,
  conditionEdits,
  defaultEdits,
  textEdits,
  unitKeyEdits,
];

/** Every edit of one node. */
export const editsOf: EditsOf = (node, parents, source) =>
  OPERATORS.flatMap((edits) => edits(node, parents, source));
