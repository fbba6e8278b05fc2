/** The sheet's tables of places, read as printed: references in both frames and seats on either face, by distances worked out by hand. mm. */
import { expect, test } from 'vitest';
import type { Report } from '../../../src/writing/report/report-form.ts';
import { referenceTables } from '../../../src/writing/sheet/reference-table.ts';
import { fullBench } from '../../metrology/support/full-bench.ts';

/** Pattern at z = 0, glass behind it to z = -6.35; the part's frame turned by a quarter about z and 300 mm away. */
const WORDS = {
  part: { origin: [10, 0, 300], rotation: [0, 0, 90] },
  references: [
    { id: 'ball', kind: 'ball', diameter: 12.7, at: [60, 25, 310] },
    { id: 'cube', kind: 'smr', diameter: '1.5 in', at: [-70.5, 0, 290] },
    { id: 'spot', kind: 'screen', at: [0, 0, 600] },
  ],
  patches: [],
};
const SEATS = [
  { id: 's1', kind: 'ball', diameter: 6, at: [80, 0], height: 3.5, face: 'part', uncertainty: '2 um' },
  {
    id: 's2',
    kind: 'nest',
    diameter: 38.1,
    at: [-40, 69],
    height: 25,
    face: 'interferometer',
    uncertainty: '5 um',
  },
];
const NOTHING = { references: [] } as unknown as Report;

/** Rows of a table by its first head. */
function rowsOf(words: object, head: string): string[][] | undefined {
  const { text } = referenceTables(fullBench({ ...WORDS, ...words }), NOTHING);
  const tables = text.split('<table>').slice(1);
  const table = tables.find((one) => one.includes(`<th scope="col">${head}</th>`));
  return table
    ?.split('<tbody>')[1]
    .split('</tr>')
    .slice(0, -1)
    .map((row) => [...row.matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(([, cell]) => cell));
}

test('a reference stands in the substrate frame, then in the part frame', () => {
  // Turned by +90°: what lies along the substrate's +x from the part's origin lies along the part's -y.
  expect(rowsOf({}, 'Reference')).toEqual([
    ['ball', 'ball', '12.7', '60', '25', '310', '25', '−50', '10', '–'],
    ['cube', 'SMR', '38.1', '−70.5', '0', '290', '0', '80.5', '−10', '–'],
    ['spot', 'screen', '–', '0', '0', '600', '0', '10', '300', '–'],
  ]);
});

test('a seat’s sphere stands its height before the face that it is bonded to', () => {
  expect(rowsOf({ seats: SEATS }, 'Seat')).toEqual([
    ['s1', 'ball', '6', '80', '0', '3.5', '2'],
    // The other face is 6.35 mm behind the pattern.
    ['s2', 'nest for an SMR', '38.1', '−40', '69', '−31.35', '5'],
  ]);
  const turned = {
    outline: { circle: { diameter: 170 } },
    thickness: 6.35,
    index: 1.457,
    patternFaces: 'interferometer',
  };
  expect(rowsOf({ seats: SEATS, substrate: turned }, 'Seat')?.map((row) => row[5])).toEqual(['9.85', '−25']);
});

test('without seats there is no table of them', () => {
  expect(rowsOf({}, 'Seat')).toBeUndefined();
});
