/** Tables that other programs write: what is read where it has one meaning only, and refused, with its place and a way out, where it has two. */
import { expect, test } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import type { SaidOfTable } from '../../src/reading/tables/foreign-columns.ts';
import { readTrackedPoints } from '../../src/reading/tables/read-tracked-points.ts';
import { saidOfTable } from '../../src/reading/tables/said-of-table.ts';

const smr = (id: string) => `  - {id: ${id}, kind: smr, diameter: 1.5 in, at: [0, 250, 800]}`;
const SCENARIO = readScenario(
  `
format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}}
references:
${['tower-1', 'low.left', 'pin-1', 'pin_1'].map(smr).join('\n')}
patches: []
`,
  's.yaml',
).scenario!;

type Options = Parameters<typeof saidOfTable>[0];

const saidBy = (options: Options): SaidOfTable => {
  const read = saidOfTable(options);
  if ('findings' in read) throw new Error(JSON.stringify(read.findings));
  return read.said;
};
const read = (text: string, options: Options = {}) =>
  readTrackedPoints(text, 't.txt', SCENARIO, saidBy(options));

/** One point at 1.5, −2.5, 1234.125 mm. */
const READ: readonly (readonly [string, string, Options?])[] = [
  ['decimal commas between tabs', 'point\tx_mm\ty_mm\tz_mm\ntower-1\t1,5\t-2,5\t1234,125\n'],
  ['decimal commas between blanks', 'point x_mm y_mm z_mm\ntower-1 1,5  -2,5  1234,125\n'],
  ['decimal commas in quotes', 'point,x_mm,y_mm,z_mm\ntower-1,"1,5","-2,5","1234,125"\n'],
  [
    'a number like a thousand beside a plain decimal comma',
    'point;x_m;y_mm;z_m\ntower-1;0,0015;-2,5;1,234125\n',
  ],
  ['blanks and units in brackets', 'point x [mm] y [mm] z [mm]\ntower-1 1.5 -2.5 1234.125\n'],
  ['a name of two words in quotes between blanks', 'point x_mm y_mm z_mm\n"Tower 1" 1.5 -2.5 1234.125\n'],
  ['units in capitals', 'point,X_MM,Y [MM],Z (M)\ntower-1,1.5,-2.5,1.234125\n'],
  ['a row of units in brackets', 'id;x;y;z\n;[mm];[um];[m]\ntower-1;1.5;-2500;1.234125\n'],
  ['a separator at the end of each row', 'point;x_mm;y_mm;z_mm\ntower-1;1.5;-2.5;1234.125;\n'],
  ['units in a comment', '# units: mm\nid;x;y;z\ntower-1;1.5;-2.5;1234.125\n'],
  ['titles with two separators', 'Job 7; mirror, second\nid;x_mm;y_mm;z_mm\ntower-1;1.5;-2.5;1234.125\n'],
  [
    'the user’s columns in place of a strange header',
    'n;E;N;H\ntower-1;1.5;-2.5;1234.125\n',
    { columns: 'point,x_mm,y_mm,z_mm' },
  ],
  ['the user’s units', 'id;x;y;z\ntower-1;0.15;-0.25;123.4125\n', { unit: ['cm'] }],
  [
    'whole numbers if the user says so',
    'id,x_um,y_um,z_um,time,a,b\ntower-1,1500,-2500,1234125,1,2,3\n',
    { decimal: 'point' },
  ],
  [
    'a unit that wins over the user’s, for columns that name none',
    'id;x;y_m;z\ntower-1;1.5;-0.0025;1234.125\n',
    { unit: ['mm'] },
  ],
];

test.each(READ.map(([form, text, options = {}]) => ({ form, text, options })))(
  '$form: read',
  ({ text, options }) => {
    const result = read(text, options);
    if ('findings' in result) throw new Error(JSON.stringify(result.findings));
    const [{ name, measured }] = result.points as readonly [(typeof result.points)[number]];
    expect(name).toBe('tower-1');
    if (measured.kind !== 'cartesian') throw new Error('x, y, z');
    [1.5, -2.5, 1234.125].forEach((value, k) => {
      expect(measured.at[k]).toBeCloseTo(value, 9);
    });
  },
);

const HALVES = 'point,x_mm,y_mm,z_mm,sx_mm,sy_mm,sz_mm\ntower-1,1,5,2,5,3,5\n';

const REFUSED: readonly (readonly [string, string, string, RegExp, Options?])[] = [
  [
    'decimal commas that fill the columns of uncertainties',
    HALVES,
    '2:9',
    /whole.*decimal commas.*--decimal point/,
  ],
  [
    'one number that may be a thousand',
    'id;x_mm;y_mm;z_mm\ntower-1;1,500;2;3\n',
    '2:9',
    /"1,500" may have.*--decimal comma/,
  ],
  [
    'a number that may be a thousand among decimal points',
    'id;x_mm;y_mm;z_mm\ntower-1;1,500;2.5;3\n',
    '2:9',
    /decimal comma, but line 2 has a decimal point/,
  ],
  [
    'points after commas',
    'id;x_mm;y_mm;z_mm\ntower-1;1,5;2.5;3\n',
    '2:13',
    /"2.5" has a decimal point, but line 2 has a decimal comma, "1,5"/,
  ],
  [
    'a comma where the user says point',
    'id;x_mm;y_mm;z_mm\ntower-1;1,5;2;3\n',
    '2:9',
    /`--decimal point` is given/,
    { decimal: 'point' },
  ],
  [
    'thousands marked beside a decimal comma',
    'id;x_mm;y_mm;z_mm\ntower-1;1.234,5;2;3\n',
    '2:9',
    /not a valid number/,
  ],
  ['no unit of angles', 'id;range_mm;az;el\ntower-1;1;2;3\n', '1:13', /no angle unit.*--unit deg/],
  [
    'a vertical angle from nobody knows where',
    'id;range_mm;az_deg;V [gon]\ntower-1;1;2;3\n',
    '1:20',
    /horizon or from the zenith.*--columns/,
  ],
  [
    'a line of units against the user',
    'Units: in\nid;x;y;z\ntower-1;1;2;3\n',
    '1:1',
    /says in, against `--unit mm`/,
    { unit: ['mm'] },
  ],
  [
    'a row of units against a column',
    'id;x_mm;y;z\n;in;in;in\ntower-1;1;2;3\n',
    '2:2',
    /row of units says in.*"x_mm"/,
  ],
  ['two columns of names', 'id;name;x_mm;y_mm;z_mm\n1;tower-1;1;2;3\n', '1:4', /appears twice.*--columns/],
  [
    'a name that may be two references',
    'id;x_mm;y_mm;z_mm\nPIN 1;1;2;3\n',
    '2:1',
    /"PIN 1" may be pin-1 or pin_1/,
  ],
  [
    'columns named in another number',
    'tower-1;1;2;3;4\n',
    '1:1',
    /5 fields but 4 columns/,
    { columns: 'point,x_mm,y_mm,z_mm' },
  ],
  [
    'columns in other units than the user says',
    'id;x_mm;y_mm;z_mm\ntower-1;1;2;3\n',
    '1:4',
    /columns name other units than `--unit in`/,
    { unit: ['in'] },
  ],
  [
    'a header in strange words',
    'n;E;N;H\ntower-1;1;2;3\n',
    '2:1',
    /no header .* above these numbers.*--columns/,
  ],
  ['nothing but titles', 'Job 7\nmirror\n', '1:1', /no header with the names/],
  ['a row of units and no more', 'id;x;y;z\n;mm;mm;mm\n', '1:1', /no rows/],
];

test.each(REFUSED.map(([form, text, place, words, options = {}]) => ({ form, text, place, words, options })))(
  '$form: refused',
  ({ text, place, words, options }) => {
    const result = read(text, options);
    if (!('findings' in result)) throw new Error('read');
    const [first] = result.findings;
    expect(`${first!.message}; ${first!.hint}`).toMatch(words);
    expect(first!.severity).toBe('error');
    expect(`${first!.place?.line}:${first!.place?.column}`).toBe(place);
  },
);

test('an exact name wins over one that is alike, and a side may be said without @', () => {
  const result = read('id;x_mm;y_mm;z_mm\npin_1;1;2;3\nLOW_LEFT@Part;1;2;3\nTower_1_Part;1;2;3\n');
  if ('findings' in result) throw new Error(JSON.stringify(result.findings));
  expect(result.points.map(({ reference, side }) => [reference, side])).toEqual([
    ['pin_1', 'hologram'],
    ['low.left', 'part'],
    ['tower-1', 'part'],
  ]);
  expect(result.table.renamed).toEqual([
    { written: 'LOW_LEFT@Part', point: 'low.left@part' },
    { written: 'Tower_1_Part', point: 'tower-1@part' },
  ]);
});
