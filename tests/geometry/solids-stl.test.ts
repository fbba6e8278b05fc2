/** STL files: both kinds of the same mesh give the same triangles; broken ones say what is wrong. */
import { expect, test } from 'vitest';
import { trianglesOfStl } from '../../src/geometry/solids-stl.ts';

const CORNERS = [0, 0, 0, 10, 0, 0, 0, 10, 0, 0, 0, 5, 1.5, -2.25, 5, 3, 3, 3];

function binary(corners: readonly number[], head = ''): Uint8Array {
  const bytes = new Uint8Array(84 + (50 * corners.length) / 9);
  bytes.set(new TextEncoder().encode(head));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, corners.length / 9, true);
  corners.forEach((value, i) => {
    view.setFloat32(84 + 50 * Math.floor(i / 9) + 12 + 4 * (i % 9), value, true);
  });
  return bytes;
}

const text = (corners: readonly number[]): Uint8Array => {
  const lines = ['solid mount'];
  for (let i = 0; i < corners.length; i += 3) {
    if (i % 9 === 0) lines.push('facet normal 0 0 1', 'outer loop');
    lines.push(`vertex ${corners[i]} ${corners[i + 1]!.toExponential()} ${corners[i + 2]}`);
    if (i % 9 === 6) lines.push('endloop', 'endfacet');
  }
  return new TextEncoder().encode([...lines, 'endsolid mount', ''].join('\n'));
};

test.each([
  ['binary', binary(CORNERS)],
  ['binary whose head starts like a text', binary(CORNERS, 'solid made elsewhere')],
  ['text', text(CORNERS)],
])('%s', (_, bytes) => {
  expect(trianglesOfStl(bytes)).toEqual(Float64Array.from(CORNERS));
});

test.each([
  ['an empty file', new Uint8Array(0), /0 bytes/],
  [
    'a binary file cut short',
    binary(CORNERS).slice(0, 150),
    /counts 2 triangles, which need 184 bytes; it has 150/,
  ],
  ['a binary file of no triangles', binary([]), /no triangles/],
  ['a text of no triangles', new TextEncoder().encode('solid\nendsolid'), /no triangles/],
  ['a text with a vertex too few', text(CORNERS.slice(0, 15)), /5 vertices/],
  ['a coordinate that is none', text([...CORNERS.slice(0, 8), Number.NaN]), /triangle 1 has a coordinate/],
])('%s', (_, bytes, fault) => {
  const result = trianglesOfStl(bytes);
  expect('fault' in result && result.fault).toMatch(fault);
});
