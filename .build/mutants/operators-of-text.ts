/** Operators on what a user reads: words that point the other way, inserts swapped, a word changed, a key's unit changed. */
import { type Edit, type EditsOf, textOf } from './edit.ts';
import { KEY_UNITS, WORDS } from './pairs.ts';
import type { Node } from './syntax.ts';

/** What a changed word is changed to. */
const CHANGED = 'otherwise';
/** A shorter word is seldom what a sentence says. */
const WORD = /\p{Ll}{5,}/gu;

export const textEdits: EditsOf = (node, parents, source) => {
  if (node.type === 'StringLiteral')
    return isKey(node, parents) ? [] : wordEdits(node.start!, textOf(source, node));
  if (node.type !== 'TemplateLiteral') return [];
  const edits: Edit[] = node.quasis.flatMap((part) => wordEdits(part.start!, textOf(source, part)));
  const [first, second] = node.expressions;
  if (second !== undefined && textOf(source, first) !== textOf(source, second)) {
    const between = source.slice(first.end!, second.start!);
    const text = `${textOf(source, second)}${between}${textOf(source, first)}`;
    edits.push({ operator: 'inserts', start: first.start!, end: second.end!, text });
  }
  const changed = longestWord(
    node.quasis.map((part) => ({ start: part.start!, text: textOf(source, part) })),
  );
  if (changed !== undefined) edits.push(changed);
  return edits;
};

const isKey = (node: Node, parents: readonly Node[]): boolean => {
  const parent = parents.at(-1);
  return parent?.type === 'ObjectProperty' && parent.key === node;
};

/** Each word that has an opposite, at its first place in the text. */
function wordEdits(offset: number, text: string): readonly Edit[] {
  const taken: Edit[] = [];
  for (const [word, other] of WORDS) {
    const place = new RegExp(`(?<![\\p{L}_-])${word}(?![\\p{L}_-])`, 'u').exec(text);
    if (place === null) continue;
    const start = offset + place.index;
    const inAnother = taken.some((edit) => edit.start <= start && start < edit.end);
    if (!inAnother) taken.push({ operator: 'word', start, end: start + word.length, text: other });
  }
  return taken;
}

/** The longest plain word of a template's text, the first of several, if the text is a sentence at all. */
function longestWord(parts: readonly { start: number; text: string }[]): Edit | undefined {
  const isSentence = parts.some(({ text }) => /\p{Ll}{2,} \p{Ll}{2,}/u.test(withoutTags(text)));
  if (!isSentence) return undefined;
  let longest: Edit | undefined;
  for (const { start, text } of parts) {
    for (const { 0: word, index } of withoutTags(text).matchAll(WORD)) {
      if (longest !== undefined && word.length <= longest.end - longest.start) continue;
      longest = { operator: 'text', start: start + index, end: start + index + word.length, text: CHANGED };
    }
  }
  return longest;
}

/** Blanks where a tag of HTML or SVG stands, one that reaches into an insert too. */
const withoutTags = (text: string): string =>
  text.replace(/<[^>]*(>|$)|^[^<>]*>/g, (tag) => ' '.repeat(tag.length));

/** `resolution_um` to `resolution_mm`, where an object is written. */
export const unitKeyEdits: EditsOf = (node, parents) => {
  if (node.type !== 'ObjectProperty' || node.computed || parents.at(-1)?.type !== 'ObjectExpression')
    return [];
  const { key } = node;
  const name = key.type === 'Identifier' ? key.name : key.type === 'StringLiteral' ? key.value : '';
  const unit = /_([a-z]+)$/.exec(name)?.[1] ?? '';
  const other = KEY_UNITS.get(unit);
  if (other === undefined || node.shorthand) return [];
  const end = key.type === 'StringLiteral' ? key.end! - 1 : key.end!;
  return [{ operator: 'unit-key', start: end - unit.length, end, text: other }];
};
