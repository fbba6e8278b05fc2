/** What becomes of a text on its way: bytes changed, lost, doubled; and what becomes of a tree: branches cut, swapped, made odd. */
import fc from 'fast-check';

/** Bytes that mean something in YAML, in CSV or in UTF-8. */
const TELLING = [
  0, 9, 10, 13, 32, 33, 34, 35, 38, 39, 42, 44, 45, 46, 48, 57, 58, 91, 93, 101, 123, 125, 128, 255,
];

interface ByteChange {
  readonly kind: 'set' | 'insert' | 'remove' | 'repeat' | 'cut';
  readonly at: number;
  readonly byte: number;
  readonly length: number;
}

const byteChange: fc.Arbitrary<ByteChange> = fc.record({
  kind: fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom('set', 'insert', 'remove', 'repeat') },
    { weight: 1, arbitrary: fc.constant('cut') },
  ) as fc.Arbitrary<ByteChange['kind']>,
  at: fc.nat(),
  byte: fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(...TELLING) },
    { weight: 1, arbitrary: fc.nat(255) },
  ),
  length: fc.integer({ min: 1, max: 60 }),
});

/** One to `most` changes of bytes. */
export const withBytesChanged = (bytes: fc.Arbitrary<Uint8Array>, most: number): fc.Arbitrary<Uint8Array> =>
  fc
    .tuple(bytes, fc.array(byteChange, { minLength: 1, maxLength: most }))
    .map(([whole, changes]) => changes.reduce(changed, Buffer.from(whole)));

function changed(bytes: Buffer, { kind, at: asked, byte, length }: ByteChange): Buffer {
  if (bytes.length === 0) return bytes;
  const at = asked % bytes.length;
  const [before, piece, after] = [bytes.subarray(0, at), bytes.subarray(at, at + length), bytes.subarray(at)];
  switch (kind) {
    case 'set':
      return Buffer.concat([before, Buffer.of(byte), after.subarray(1)]);
    case 'insert':
      return Buffer.concat([before, Buffer.of(byte), after]);
    case 'remove':
      return Buffer.concat([before, after.subarray(length)]);
    case 'repeat':
      return Buffer.concat([before, piece, after]);
    default:
      return before;
  }
}

/** Values that belong nowhere, and some that belong elsewhere. */
const ODD: readonly unknown[] = [
  null,
  true,
  false,
  '',
  ' ',
  '~',
  'auto',
  'a/0',
  '1 nm',
  '1 km',
  '5 kg',
  '360 deg',
  '1e309',
  '1 mm * 1 mm',
  'sqrt(-1) * 1 mm',
  '__proto__',
  'constructor',
  `${'('.repeat(300)}1${')'.repeat(300)}`,
  'x'.repeat(500),
  '\u0000',
  '\u202e‮😀',
  '<script>&amp;"',
  '=1+1',
  '../../etc',
  0,
  -0,
  -1,
  1.5,
  1e9,
  1e12,
  1e308,
  1e-308,
  Number.NaN,
  Number.POSITIVE_INFINITY,
  [],
  {},
  [[]],
  [0, 0],
  [0, 0, 0],
  { from: 0, to: 1, count: 1e9 },
];

type Tree = Record<string, unknown> | unknown[];
interface Branch {
  readonly of: Tree;
  readonly key: string | number;
}

const isTree = (value: unknown): value is Tree => typeof value === 'object' && value !== null;
const at = ({ of, key }: Branch): unknown => (of as Record<string | number, unknown>)[key];
const put = ({ of, key }: Branch, value: unknown): void => {
  (of as Record<string | number, unknown>)[key] = value;
};

function branches(tree: Tree): Branch[] {
  const keys = Array.isArray(tree) ? [...tree.keys()] : Object.keys(tree);
  return keys.flatMap((key) => {
    const branch = { of: tree, key };
    const value = at(branch);
    return isTree(value) ? [branch, ...branches(value)] : [branch];
  });
}

const treeChange = fc.record({
  kind: fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom('nudge', 'odd') },
    { weight: 1, arbitrary: fc.constantFrom('remove', 'swap', 'double', 'rename', 'wrap') },
  ),
  at: fc.nat(),
  other: fc.nat(),
  odd: fc.constantFrom(...ODD),
  factor: fc.oneof(fc.double({ min: 0.9, max: 1.1, noNaN: true }), fc.constantFrom(-1, 0, 10, 1000, 1e-6)),
});
type TreeChange = typeof treeChange extends fc.Arbitrary<infer T> ? T : never;

/** One to three branches of a tree cut, doubled, swapped, renamed, made odd or a little more or less. */
export const withBranchesChanged = (tree: fc.Arbitrary<object>): fc.Arbitrary<object> =>
  fc.tuple(tree, fc.array(treeChange, { minLength: 1, maxLength: 3 })).map(([whole, changes]) => {
    const copy = structuredClone(whole) as Tree;
    for (const change of changes) grown(copy, change);
    return copy;
  });

function grown(tree: Tree, { kind, at: asked, other, odd, factor }: TreeChange): void {
  const all = branches(tree);
  if (all.length === 0) return;
  const branch = all[asked % all.length]!;
  const value = at(branch);
  const second = all[other % all.length]!;
  switch (kind) {
    case 'nudge':
      put(branch, nudged(value, factor));
      break;
    case 'odd':
      put(branch, odd);
      break;
    case 'remove':
      if (Array.isArray(branch.of)) branch.of.splice(branch.key as number, 1);
      else delete branch.of[branch.key];
      break;
    case 'double':
      if (Array.isArray(branch.of)) branch.of.push(structuredClone(value));
      break;
    case 'rename':
      if (!Array.isArray(branch.of)) branch.of[`${branch.key}s`] = value;
      break;
    case 'wrap':
      put(branch, [value]);
      break;
    default: {
      const from = structuredClone(at(second));
      put(second, structuredClone(value));
      put(branch, from);
    }
  }
}

/** A number, or the first number of a text, times `factor`. */
function nudged(value: unknown, factor: number): unknown {
  if (typeof value === 'number') return value * factor;
  if (typeof value !== 'string') return value;
  return value.replace(/\d+(\.\d+)?/, (digits) => `${Number(digits) * factor}`);
}
