/**
 * YAML nodes to plain data: aliases share what they stand for, merge keys are filled in (YAML 1.1's `<<`: own keys win,
 * then earlier sources), and every key becomes the data's own, `__proto__` too. Faults come out with their ranges.
 */
import { type Alias, isAlias, isMap, isScalar, isSeq, type Node, type YAMLMap } from 'yaml';
import type { Code } from '../../finding/codes.ts';
import { isObject } from './field.ts';
import type { PlaceIndex } from './place-finder.ts';

/** Values after aliases are followed: 20,000 patches hold a third of it, a bomb of aliases may not go off. */
const MOST_VALUES = 2_000_000;

/** Called for each fault with the range of offsets that it stands at. */
type Fault = (rule: Code, message: string, hint: string, start: number, end: number) => void;

/** The data under `root`; undefined where a fault keeps it from being used. Notes in `places` what aliases stand for. */
export function plainData(root: Node, places: PlaceIndex, fault: Fault): unknown {
  const anchors = new Map<string, Node>();
  const made = new Map<Node, { data: unknown; size: number }>();
  let usable = true;

  const refuse: Fault = (rule, message, hint, start, end) => {
    usable = false;
    fault(rule, message, hint, start, end);
  };
  const convert = (node: Node | null): { data: unknown; size: number } => {
    if (node === null) return { data: null, size: 1 };
    if (isAlias(node)) return aliased(node);
    let result = { data: null as unknown, size: 1 };
    if (isScalar(node)) result.data = node.value;
    else if (isSeq(node)) result = list(node.items as Node[]);
    else if (isMap(node)) result = mapping(node);
    const { anchor } = node as { anchor?: string };
    if (anchor !== undefined) {
      anchors.set(anchor, node);
      made.set(node, result);
    }
    return result;
  };
  const aliased = (node: Alias): { data: unknown; size: number } => {
    const source = anchors.get(node.source);
    if (source === undefined) {
      refuse(
        'yaml-syntax',
        `there is no anchor \`&${node.source}\` before this alias`,
        'add it',
        ...span(node),
      );
      return { data: null, size: 1 };
    }
    places.aliases.set(node, source);
    return made.get(source)!;
  };
  const list = (items: readonly Node[]): { data: unknown; size: number } => {
    const converted = items.map(convert);
    return { data: converted.map(({ data }) => data), size: 1 + total(converted) };
  };
  const mapping = (node: YAMLMap): { data: unknown; size: number } => {
    const data: Record<string, unknown> = {};
    const lines = new Map<string, number>();
    const merged: unknown[] = [];
    let size = 1;
    for (const { key, value } of node.items) {
      const converted = convert(value as Node | null);
      size += converted.size;
      if (isMergeKey(key)) {
        merged.push(...[converted.data].flat());
        if (merged.every(isObject)) continue;
        refuse(
          'yaml-syntax',
          'a merge key `<<` needs a mapping or a list of mappings',
          'refer to an anchor, e.g. `<<: *name`',
          ...span(key as Node),
        );
        merged.length = 0;
        continue;
      }
      const name = String((key as { value?: unknown }).value);
      const [start, end] = span(key as Node);
      const before = lines.get(name);
      if (before !== undefined) {
        const message = `the key \`${name}\` is repeated; it is already on line ${before}`;
        fault('duplicate-key', message, 'remove or rename one of the two', start, end);
      }
      lines.set(name, places.ofRange(start, end).line);
      setOwn(data, name, converted.data);
    }
    for (const source of merged as Record<string, unknown>[]) {
      for (const [name, value] of Object.entries(source))
        if (!Object.hasOwn(data, name)) setOwn(data, name, value);
    }
    return { data, size };
  };

  const { data, size } = convert(root);
  if (usable && size > MOST_VALUES) {
    const message = `with its aliases expanded the file has ${size} values; the limit is ${MOST_VALUES}`;
    refuse('runaway-aliases', message, 'write the content out', 0, 1);
  }
  return usable ? data : undefined;
}

/** The key `<<`. */
export const isMergeKey = (key: unknown): boolean =>
  isScalar(key) && (typeof key.value === 'symbol' || (key.value === '<<' && key.type === 'PLAIN'));

const total = (parts: readonly { size: number }[]): number => parts.reduce((sum, { size }) => sum + size, 0);

const span = (node: Node): [number, number] => [node.range?.[0] ?? 0, node.range?.[1] ?? 1];

const setOwn = (data: Record<string, unknown>, name: string, value: unknown): void => {
  if (name in data)
    Object.defineProperty(data, name, { value, enumerable: true, writable: true, configurable: true });
  else data[name] = value;
};
