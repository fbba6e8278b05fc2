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
  type YAMLMap,
} from 'yaml';
import type { Path, Place } from '../../finding/finding.ts';
import { isMergeKey } from './plain-data.ts';

/** The place of a path's value; of a missing key, its parent's key. Undefined where the text has no structure. */
export type PlaceFinder = (path: Path) => Place | undefined;

interface MapIndex {
  readonly own: Map<string, Pair>;
  readonly merged: Node[];
}

/** Merges within merges that are followed. */
const DEEPEST_MERGE = 8;

/** Filled while the text is parsed; answers afterwards. */
export class PlaceIndex {
  root: Node | undefined;
  /** What each alias stands for. */
  readonly aliases = new Map<Alias, Node>();
  readonly #indices = new Map<YAMLMap, MapIndex>();
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
    if (!isMap(node) || depth > DEEPEST_MERGE) return undefined;
    const { own, merged } = this.#indexOf(node);
    const pair = own.get(name);
    if (pair !== undefined) return pair;
    for (const value of merged) {
      const source = this.#resolved(value);
      for (const part of isSeq(source) ? source.items : [source]) {
        const found = this.#pairOf(this.#resolved(part as Node), name, depth + 1);
        if (found !== undefined) return found;
      }
    }
    return undefined;
  }

  /** The pairs of a mapping by key, made once: a hostile one has a hundred thousand, each with a fault. */
  #indexOf(map: YAMLMap): MapIndex {
    let index = this.#indices.get(map);
    if (index === undefined) {
      index = { own: new Map(), merged: [] };
      for (const pair of map.items) {
        if (isMergeKey(pair.key)) index.merged.push(pair.value as Node);
        else if (isScalar(pair.key)) index.own.set(String(pair.key.value), pair as Pair);
      }
      this.#indices.set(map, index);
    }
    return index;
  }

  #resolved(node: Node | undefined | null): Node | undefined {
    return (isAlias(node) ? this.aliases.get(node) : node) ?? undefined;
  }
}
