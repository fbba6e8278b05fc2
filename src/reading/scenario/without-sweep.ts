/**
 * A scenario's text as each case of its sweep reads it: without the `sweep`, every line still in its place, so that a change of
 * the sweep alone changes no case that stays, and findings keep their lines.
 */
import { isMap, isNode, isScalar, parseDocument } from 'yaml';

/**
 * `text` with the section `sweep` blanked; without the blank lines at its end, so that a sweep may stand there. Unchanged where
 * the section is written in a way that other parts of the text may lean on: within a flow mapping, or with anchors.
 */
export function withoutSweep(text: string): string {
  const { contents } = parseDocument(text, { logLevel: 'error', uniqueKeys: false });
  if (!isMap(contents) || contents.flow) return text;
  const pair = contents.items.find(({ key }) => isScalar(key) && key.value === 'sweep');
  if (pair === undefined || !isNode(pair.key) || !pair.key.range) return text;
  const start = pair.key.range[0];
  const end = isNode(pair.value) && pair.value.range ? pair.value.range[1] : pair.key.range[1];
  const section = text.slice(start, end);
  if (section.includes('&')) return text;
  const rest = text.slice(end).replace(/^[^\n]*/, '');
  return `${(text.slice(0, start) + section.replace(/[^\n]/g, '') + rest).trimEnd()}\n`;
}
