/** The syntax tree of a source: every node that runs, with its parents; types, imports and exports' names left out. */
import { parse } from '@babel/parser';
import type { Node } from '@babel/types';

export type { Node };

/** What `see` is told of a node: the nodes around it, the nearest last. */
export type See = (node: Node, parents: readonly Node[]) => void;

/** Goes through the nodes of a TypeScript source in the order in which they stand. */
export function walkSource(source: string, see: See): void {
  walk(parse(source, { sourceType: 'module', plugins: ['typescript'] }).program, [], see);
}

function walk(node: Node, parents: readonly Node[], see: See): void {
  if (neverRuns(node)) return;
  see(node, parents);
  const around = [...parents, node];
  for (const child of childrenOf(node)) walk(child, around, see);
}

/** `as`, `satisfies` and `!` hold an expression that runs; everything else of TypeScript's own is types. */
const HOLD_AN_EXPRESSION = new Set(['TSAsExpression', 'TSSatisfiesExpression', 'TSNonNullExpression']);

const neverRuns = (node: Node): boolean =>
  (node.type.startsWith('TS') && !HOLD_AN_EXPRESSION.has(node.type)) ||
  node.type === 'ImportDeclaration' ||
  node.type === 'ExportAllDeclaration' ||
  (node.type === 'ExportNamedDeclaration' && node.source != null) ||
  node.type === 'Directive';

function childrenOf(node: Node): readonly Node[] {
  const children = Object.values(node).flatMap((value) => (Array.isArray(value) ? value : [value]));
  return children.filter(isNode).sort((a, b) => (a.start ?? 0) - (b.start ?? 0));
}

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' &&
  value !== null &&
  'type' in value &&
  'start' in value &&
  'end' in value &&
  !/^Comment(Block|Line)$/.test(String(value.type));
