/** Where a path of keys and list positions stands in the scenario's text. */
import {
  type Alias,
  isAlias,
  isCollection,
  isMap,
  isScalar,
  isSeq,
  type LineCounter,
  type Node,
  type Pair,
} from 'yaml';
import type { Path, Place } from '../finding/finding.ts';
import { isMergeKey } from './plain-data.ts';

/** The place of a path's value; of a missing key, its parent's key. Undefined where the text has no structure. */
export type PlaceFinder = (path: Path) => Place | undefined;

/** Filled while the text is parsed; answers afterwards. */
export class PlaceIndex {
  root: Node | undefined;
  /** What each alias stands for. */
  readonly aliases = new Map<Alias, Node>();
  readonly #file: string;
  readonly #lines: LineCounter;

  constructor(file: string, lines: LineCounter) {
    this.#file = file;
    this.#lines = lines;
  }

  /** The value at `path`; the key of a block of lines; of something missing, the nearest key or list entry around it. */
  ofValue(path: Path): Place | undefined {
    const { node, key, missing } = this.#walk(path);
    if (node === undefined) return undefined;
    const [start, end] = node.range ?? [0, 0];
    const block = isCollection(node) && !node.flow;
    if (key?.range && (missing || block || end <= start)) return this.ofRange(key.range[0], key.range[1]);
    return path.length === 0 || node === this.root ? this.ofRange(0, 1) : this.ofRange(start, end);
  }

  /** The key that `path` ends with. */
  ofKey(path: Path): Place | undefined {
    const { key, missing } = this.#walk(path);
    return key?.range && !missing ? this.ofRange(key.range[0], key.range[1]) : this.ofValue(path);
  }

  /** A range of offsets. */
  ofRange(start: number, end: number): Place {
    const from = this.#lines.linePos(start);
    const to = this.#lines.linePos(Math.max(start, end));
    return {
      file: this.#file,
      line: Math.max(1, from.line),
      column: Math.max(1, from.col),
      endLine: Math.max(1, to.line),
      endColumn: Math.max(1, to.col),
    };
  }

  #walk(path: Path): { node: Node | undefined; key: Node | undefined; missing: boolean } {
    let node = this.#resolved(this.root);
    let key: Node | undefined;
    for (const step of path) {
      if (isMap(node)) {
        const pair = this.#pairOf(node, String(step), 0);
        if (pair === undefined) return { node, key, missing: true };
        key = pair.key as Node;
        node = this.#resolved(pair.value as Node) ?? key;
      } else if (isSeq(node) && typeof step === 'number' && step < node.items.length) {
        key = undefined;
        node = this.#resolved(node.items[step] as Node);
      } else {
        return { node, key, missing: true };
      }
    }
    return { node, key, missing: false };
  }

  /** The pair that gives a key its value: the last one, else one that a merge key brings in. */
  #pairOf(node: unknown, name: string, depth: number): Pair | undefined {
    if (!isMap(node) || depth > 8) return undefined;
    const own = node.items.findLast(({ key }) => isScalar(key) && String(key.value) === name);
    if (own !== undefined) return own as Pair;
    for (const { key, value } of node.items) {
      if (!isMergeKey(key)) continue;
      const source = this.#resolved(value as Node);
      for (const merged of isSeq(source) ? source.items : [source]) {
        const pair = this.#pairOf(this.#resolved(merged as Node), name, depth + 1);
        if (pair !== undefined) return pair;
      }
    }
    return undefined;
  }

  #resolved(node: Node | undefined | null): Node | undefined {
    return (isAlias(node) ? this.aliases.get(node) : node) ?? undefined;
  }
}
