/** The layers of a pattern's DXF: what is written stands on its own layer, a thinned picture on one that says that it is none. */
import { expect, test } from 'vitest';
import { patternDxf } from '../../../src/writing/pattern/pattern-dxf.ts';
import { patternDesign } from './pattern-design.ts';

/** Closed polylines by layer. */
function countsOf(text: string): Record<string, number> {
  const lines = text.split(/\r?\n/).map((line) => line.trim());
  const counts: Record<string, number> = {};
  for (let k = 0; k + 1 < lines.length; k += 2) {
    if (lines[k] !== '0' || lines[k + 1] !== 'LWPOLYLINE') continue;
    let at = k + 2;
    while (lines[at] !== '8') at += 2;
    counts[lines[at + 1]] = (counts[lines[at + 1]] ?? 0) + 1;
  }
  return counts;
}
const layersOf = (text: string): readonly string[] =>
  [...text.matchAll(/\n\s*0\r?\nLAYER\r?\n[\s\S]*?\n\s*2\r?\n([^\r\n]+)/g)].map(([, name]) => name);

test.each([
  [undefined, 'WRITTEN', 'THINNED_NOT_FOR_FABRICATION'],
  [1, 'WRITTEN', 'THINNED_NOT_FOR_FABRICATION'],
  [2, 'THINNED_NOT_FOR_FABRICATION', 'WRITTEN'],
  [4, 'THINNED_NOT_FOR_FABRICATION', 'WRITTEN'],
])('every %s zones stand on %s', (every, layer, other) => {
  const { text, polygons } = patternDxf(patternDesign(), every === undefined ? {} : { every });
  // Four patches; the substrate is a ring of two loops, and so is one patch.
  expect(countsOf(text)).toEqual({ [layer]: polygons, PATCH: 5, SUBSTRATE: 2 });
  expect(layersOf(text)).toContain(layer);
  expect(layersOf(text)).not.toContain(other);
});
