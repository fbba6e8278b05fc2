/** A tracker's points from CSV: both kinds of columns, sides by name, and every fault at its place. */
import { describe, expect, it } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { readTrackedPoints } from '../../src/reading/tables/read-tracked-points.ts';

const SCENARIO = readScenario(
  `
format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}}
part:
  origin: [0, 0, 900]
  datums:
    A: {plane: {point: [0, 0, 0], normal: [0, 0, -1]}}
    B: {cylinder: {point: [0, 0, 0], axis: [0, 0, 1], diameter: 240, side: outside}}
references:
  - {id: tower, kind: smr, diameter: 1.5 in, at: [0, 250, 800]}
  - {id: rim, kind: smr, diameter: 1.5 in, touches: [{datum: B, azimuth: 90 deg}, {datum: A}]}
  - {id: both, kind: smr, diameter: 1.5 in, touches: [{datum: B, azimuth: 0 deg}, {datum: A}]}
  - {id: spot, kind: screen, at: [0, 0, 400]}
patches:
  - {id: both-1, reference: both, focus: line, centre: [60, 0], outline: {rectangle: {width: 10, height: 10}}, lineAngle: 90 deg}
`,
  's.yaml',
).scenario!;

const read = (text: string) => readTrackedPoints(text, 'p.csv', SCENARIO);
const pointsOf = (text: string) => {
  const result = read(text);
  if ('findings' in result) throw new Error(JSON.stringify(result.findings));
  return result.points;
};

describe('tracked points', () => {
  it('take columns in any order, with comments and empty lines', () => {
    const [point] = pointsOf('# tracker\n\nz_mm,point,x_mm,y_mm\n3, tower ,1,2e3\n');
    expect(point).toMatchObject({
      name: 'tower',
      reference: 'tower',
      side: 'hologram',
      measured: { kind: 'cartesian', at: [1, 2000, 3], sigma: undefined },
      // `tower` in the fourth line, behind `3, `.
      place: { file: 'p.csv', line: 4, column: 4, endLine: 4, endColumn: 9 },
    });
  });

  it('take standard uncertainties', () => {
    const [point] = pointsOf('point,x_mm,y_mm,z_mm,sx_mm,sy_mm,sz_mm\ntower,1,2,3,0.01,0.02,0.03\n');
    expect(point!.measured).toMatchObject({ sigma: [0.01, 0.02, 0.03] });
  });

  it.each([
    ['deg', 1 / 3600],
    ['arcsec', 1],
  ])('take range and angles with uncertainties in %s', (unit, second) => {
    const head = `point,range_mm,azimuth_deg,elevation_deg,srange_mm,sazimuth_${unit},selevation_${unit}`;
    const { measured } = pointsOf(`${head}\ntower,1000,90,-45,0.01,${second},${2 * second}\n`)[0]!;
    if (measured.kind !== 'spherical') throw new Error('spherical columns');
    const { range, azimuth, elevation, sigma } = measured;
    expect(range).toBe(1000);
    expect(azimuth).toBeCloseTo(Math.PI / 2, 15);
    expect(elevation).toBeCloseTo(-Math.PI / 4, 15);
    expect(sigma![0]).toBe(0.01);
    expect(sigma![1]).toBeCloseTo(4.84813681109536e-6, 18);
    expect(sigma![2]).toBeCloseTo(9.69627362219072e-6, 18);
  });

  it.each([
    ['tower', 'hologram'],
    ['tower@part', 'part'],
    ['rim', 'part'],
    ['rim@hologram', 'hologram'],
    ['both', 'hologram'],
    ['both@part', 'part'],
  ])('%s sits on the side of the %s', (name, side) => {
    expect(pointsOf(`point,x_mm,y_mm,z_mm\n${name},1,2,3\n`)[0]!.side).toBe(side);
  });

  it.each([
    ['an empty file', '', 'bad-table', '1:1', /empty/],
    ['a head alone', 'point,x_mm,y_mm,z_mm\n', 'bad-table', '1:1', /no rows/],
    ['a column too few', 'point,x_mm,y_mm\ntower,1,2\n', 'bad-table', '1:1', /z_mm is missing/],
    [
      'one uncertainty of three',
      'point,x_mm,y_mm,z_mm,sx_mm\ntower,1,2,3,4\n',
      'bad-table',
      '1:1',
      /sy_mm is missing/,
    ],
    [
      'both kinds of columns, whole',
      'point,x_mm,y_mm,z_mm,range_mm,azimuth_deg,elevation_deg\ntower,1,2,3,4,5.5,6\n',
      'bad-table',
      '2:1',
      /x, y, z and range, azimuth.*--columns/,
    ],
    [
      'a value too few',
      'point,x_mm,y_mm,z_mm\ntower,1,2\n',
      'bad-table',
      '2:1',
      /3 fields but the header has 4 columns/,
    ],
    ['NaN', 'point,x_mm,y_mm,z_mm\ntower,1,NaN,3\n', 'bad-table', '2:9', /"NaN"/],
    ['no name', 'point,x_mm,y_mm,z_mm\n,1,2,3\n', 'bad-table', '2:1', /point is empty/],
    [
      'an unknown name',
      'point,x_mm,y_mm,z_mm\ntowr,1,2,3\n',
      'unknown-reference',
      '2:1',
      /did you mean `tower`/,
    ],
    [
      'a strange side',
      'point,x_mm,y_mm,z_mm\ntower@floor,1,2,3\n',
      'unknown-reference',
      '2:1',
      /tower@floor/,
    ],
    ['a screen', 'point,x_mm,y_mm,z_mm\nspot,1,2,3\n', 'unknown-reference', '2:1', /spot/],
    [
      'no uncertainty',
      'point,x_mm,y_mm,z_mm,sx_mm,sy_mm,sz_mm\ntower,1,2,3,1,0,1\n',
      'out-of-range',
      '2:15',
      /sy_mm is 0/,
    ],
    [
      'a range behind',
      'point,range_mm,azimuth_deg,elevation_deg\ntower,-5,0,0\n',
      'out-of-range',
      '2:7',
      /range is -5/,
    ],
  ])('are refused for %s', (_, text, rule, place, message) => {
    const result = read(text);
    const findings = 'findings' in result ? result.findings : [];
    const first = findings[0]!;
    expect(first).toMatchObject({ severity: 'error', rule });
    expect(`${findings.map((finding) => `${finding.message}; ${finding.hint}`).join('\n')}`).toMatch(message);
    expect(`${first.place?.line}:${first.place?.column}`).toBe(place);
  });

  it('say all faults at once', () => {
    const result = read('point,x_mm,y_mm,z_mm\nnobody,1,2,3\ntower,1,2,3\ntower,1,NaN,3\n');
    expect('findings' in result && result.findings.map(({ rule }) => rule)).toEqual([
      'unknown-reference',
      'bad-table',
    ]);
  });
});
