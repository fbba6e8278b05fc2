/** The files that a scenario names, told without reading them. */
import { expect, test } from 'vitest';
import { namedFiles } from '../../src/reading/scenario/named-files.ts';

test.each([
  [
    'part: {envelope: [{mesh: {file: a.stl}}, {sphere: {diameter: 3}}, {mesh: {file: b.stl, scale: 2}}]}',
    ['a.stl', 'b.stl'],
  ],
  ['part: {envelope: [{mesh: {file: a.stl}}, {mesh: {file: a.stl}}]}', ['a.stl']],
  ['part: {envelope: [{"\\x6desh": {file: a.stl}}]}', ['a.stl']],
  ['m: &m {file: a.stl}\npart: {envelope: [{mesh: *m}]}', ['a.stl']],
  ['part: {envelope: [{mesh: {file: 3}}, {mesh: 4}, mesh, null]}', []],
  ['part: {envelope: {mesh: {file: a.stl}}}', []],
  ['part: {datums: {M: {asphere: {grid: {file: sag.csv}}}, B: {plane: {grid: {file: b.csv}}}}}', ['sag.csv']],
  ['part: {datums: {M: {asphere: {grid: sag.csv}}, N: 4, O: {asphere: []}}}', []],
  ['part: {datums: {M: {asphere: {grid: {file: a.csv}}}}, envelope: [{mesh: {file: a.csv}}]}', ['a.csv']],
  ['title: the mesh of a sieve', []],
  ['obstacles: [{id: clamp, solids: [{mesh: {file: c.stl}}]}, {id: odd, solids: 3}, 4]', ['c.stl']],
  ['part: [mesh', []],
  ['', []],
])('%s', (text, names) => {
  expect(namedFiles(text)).toEqual(names);
});
