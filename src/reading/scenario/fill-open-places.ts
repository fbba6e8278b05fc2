/**
 * Writes into a scenario's own text what was left open there: each `auto` is replaced where it stands, added patches follow the
 * last one, and every line that was changed says so in a comment. All else stays as the user wrote it, byte for byte.
 */
import { isAlias, isMap, isScalar, isSeq, type Node, parseDocument, type YAMLSeq } from 'yaml';
import type { Path } from '../../finding/finding.ts';
import { AUTO } from './open-places.ts';

interface Filling {
  /** What stands at a path that says `auto`, as YAML. */
  readonly values: readonly { readonly path: Path; readonly yaml: string }[];
  /** Patches to add, each as YAML on one line. */
  readonly added: readonly string[];
}

const MARK = 'plan';

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The filled text; undefined where a place cannot be written into, because it comes from an alias or a merge key. */
export function fillOpenPlaces(given: string, { values, added }: Filling): string | undefined {
  const bom = given.startsWith('\ufeff') ? '\ufeff' : '';
  const text = given.slice(bom.length);
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  const root = parseDocument(text, { merge: true, uniqueKeys: false, stringKeys: true }).contents;
  const edits: Edit[] = [];
  const marks = new Map<number, string[]>();
  for (const { path, yaml } of values) {
    const node = nodeAt(root, path);
    const [start, end] = node?.range ?? [0, 0];
    if (!(isScalar(node) && node.value === AUTO) || end <= start) return undefined;
    edits.push({ start, end, text: yaml });
    const line = endOfLine(text, end);
    marks.set(line, [...(marks.get(line) ?? []), String(path.at(-1))]);
  }
  if (added.length > 0) {
    const edit = addition(text, root, added, newline);
    if (edit === undefined) return undefined;
    edits.push(edit);
  }
  const marked = [...marks].map(
    ([line, names]): Edit => ({ start: line, end: line, text: mark(text, line, names) }),
  );
  const filled = applied(text, [...edits, ...marked]);
  // A mark that is no comment after all (a line that goes on inside quotes) would change the meaning: better no marks.
  const plain = applied(text, edits);
  return bom + (sameData(filled, plain) ? filled : plain);
}

/** The node written at a path; nothing that comes from an alias or a merge. */
function nodeAt(root: Node | null, path: Path): Node | undefined {
  let node: unknown = root;
  for (const step of path) {
    if (isMap(node)) {
      const pair = node.items.findLast(({ key }) => isScalar(key) && String(key.value) === String(step));
      node = pair?.value;
    } else if (isSeq(node) && typeof step === 'number') node = node.items[step];
    else return undefined;
    if (isAlias(node)) return undefined;
  }
  return (node as Node | undefined) ?? undefined;
}

function addition(
  text: string,
  root: Node | null,
  added: readonly string[],
  newline: string,
): Edit | undefined {
  const list = nodeAt(root, ['patches']);
  if (!isSeq(list) || list.range == null || !isMap(root)) return undefined;
  const lines = (indent: string): string =>
    added.map((patch) => `${indent}- ${patch}   # ${MARK}`).join(newline);
  const [start, end] = list.range;
  if (list.items.length === 0) {
    if (root.flow) return { start, end, text: `[${added.join(', ')}]` };
    return { start, end, text: `${newline}${lines('  ')}` };
  }
  if (list.flow) {
    const close = text.lastIndexOf(']', end - 1);
    return { start: close, end: close, text: `, ${added.join(', ')}` };
  }
  const last = (list as YAMLSeq<Node>).items.at(-1)!.range![1];
  const at = text[last - 1] === '\n' ? last : endOfLine(text, last);
  const dash = text.lastIndexOf('-', (list as YAMLSeq<Node>).items[0]!.range![0] - 1);
  const indent = text.slice(text.lastIndexOf('\n', dash) + 1, dash);
  const block = lines(/^\s*$/.test(indent) ? indent : '  ');
  return text[at - 1] === '\n' || at === 0
    ? { start: at, end: at, text: `${block}${newline}` }
    : { start: at, end: at, text: `${newline}${block}` };
}

/** A comment at the end of a line, or one more word in the comment that stands there. */
function mark(text: string, lineEnd: number, names: readonly string[]): string {
  const line = text.slice(text.lastIndexOf('\n', lineEnd - 1) + 1, lineEnd);
  return `${/\s#/.test(line) ? ';' : '   #'} ${MARK}: ${names.join(', ')}`;
}

function endOfLine(text: string, from: number): number {
  const end = text.indexOf('\n', from);
  if (end < 0) return text.length;
  return text[end - 1] === '\r' ? end - 1 : end;
}

/** From the end backward, so that offsets hold; at one place the later edit stands behind. */
function applied(text: string, edits: readonly Edit[]): string {
  let result = text;
  const order = edits
    .map((edit, k) => ({ edit, k }))
    .sort((a, b) => b.edit.start - a.edit.start || b.k - a.k);
  for (const { edit } of order) result = result.slice(0, edit.start) + edit.text + result.slice(edit.end);
  return result;
}

/** Whether two texts mean the same; never where one of them is no YAML. */
export function sameData(one: string, other: string): boolean {
  const data = (text: string): string | undefined => {
    const document = parseDocument(text, { merge: true, uniqueKeys: false, logLevel: 'silent' });
    return document.errors.length > 0 ? undefined : JSON.stringify(document.toJS());
  };
  const first = data(one);
  return first !== undefined && first === data(other);
}
