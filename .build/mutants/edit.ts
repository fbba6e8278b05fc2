/** A change of a source's text, and what finds them. */
import type { Node } from './syntax.ts';

/** `source.slice(start, end)` becomes `text`. */
export interface Edit {
  readonly operator: string;
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export type EditsOf = (node: Node, parents: readonly Node[], source: string) => readonly Edit[];

export const span = (node: Node): { start: number; end: number } => ({ start: node.start!, end: node.end! });

export const textOf = (source: string, node: Node): string => source.slice(node.start!, node.end!);
