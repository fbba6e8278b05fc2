/** Inputs that the fuzz has found something with, made small: each is asked again in every run, and held to the laws. */
import { readFileSync } from 'node:fs';
import type { Asked } from './fuzz-asked.ts';
import { TRACKED } from './fuzz-bench.ts';
import type { Shards } from './fuzz-ground.ts';

export interface KeptCase extends Pick<Asked, 'use' | 'argv'> {
  /** What was wrong with the answer. */
  readonly was: string;
  readonly code: number;
  readonly input?: string;
  readonly files?: (shards: Shards) => Readonly<Record<string, string>>;
}

/** A collimated beam that meets a plane square on. */
const FLAT = `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {collimated: true, beamDiameter: 145}
substrate: {outline: {circle: {diameter: 150}}, thickness: 6, glass: fused silica, patternFaces: part}
references: [{id: ring, kind: return}]
patches: [{id: ring, reference: ring, focus: return, centre: [0, 0], outline: {ring: {inner: 126, outer: 132}}}]
`;

/** A corner of the patch three metres off, by a slip of the pen. */
const FAR_CORNER = `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -456], fNumber: 3}
substrate: {outline: {circle: {diameter: 150}}, thickness: 6, glass: fused silica, patternFaces: part}
references: [{id: r0, kind: smr, diameter: 1.5 in, at: [0, 0, 222]}]
patches:
  - {id: p0, reference: r0, focus: point, centre: [38, 3], outline: {polygon: {points: [[-4, -4], [5, -3], [4, 4], [-5, 3000]]}}}
`;

/** A ball that the patch stands in, by a slip of the unit. */
const HUGE_BALL = `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}, edgeMargin: 3, clearance: 0.5}
references: [{id: near, kind: ball, diameter: 500 in, at: [90, 20, 130]}]
patches: [{id: near-1, reference: near, focus: point, centre: [60, 0], outline: {circle: {diameter: 12}}}]
`;

/** A patch that stands already looks at a reference that `plan` may leave out. */
const LEFT_OUT = `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}, edgeMargin: 3, clearance: 0.5}
references:
  - {id: near, kind: ball, diameter: 0.5 in, at: [90, 20, 130]}
  - {id: far, kind: ball, diameter: 0.5 in, at: [-90, 20, 130], use: auto, patches: auto}
patches:
  - {id: near-1, reference: near, focus: point, centre: auto, outline: {circle: {diameter: 12}}}
  - {id: far-1, reference: far, focus: point, centre: [-60, 0], outline: {circle: {diameter: 12}}}
wanted: {z: 1 mm}
`;

const plan = ['plan', '-', '--out', '@/planned/plan.yaml', '--json'];
const gather = ['batch', '--gather', '@/shards/1', '@/shards/2', '--out', '@/joined', '--json'];
/** Of the first shard's summary one place changed. */
const touched =
  (what: RegExp, put: string) =>
  ({ summaries }: Shards): Readonly<Record<string, string>> => {
    const text = summaries['shards/1/summary.json']!;
    if (!what.test(text)) throw new Error(`the summary has no ${what}`);
    return { 'shards/1/summary.json': text.replace(what, put) };
  };

export const KEPT: readonly KeptCase[] = [
  {
    use: 'make',
    argv: ['make', '-', '--out', '@/out', '--json'],
    input: FLAT,
    code: 0,
    was: 'a pattern without lines has no least period: null where the schema of the report had a number',
  },
  {
    use: 'check',
    argv: ['check', '-', '--json'],
    input: FAR_CORNER,
    code: 1,
    was: 'a patch far off the glass has no count of fringes in power: null where the schema of the report had a number',
  },
  {
    use: 'check',
    argv: ['check', '-', '--json'],
    input: HUGE_BALL,
    code: 1,
    was: 'a ball that holds the patch gave it a Fresnel number below nought',
  },
  {
    use: 'transfer',
    argv: ['transfer', TRACKED.file, '--points', '-', '--json'],
    input: readFileSync('examples/transfer-mirror-on-rim.points.csv', 'utf8').replace(
      'rim-1,3906',
      'rim-1,3916',
    ),
    code: 1,
    was: 'an outlying point was not told with its line in the table',
  },
  {
    use: 'make',
    argv: ['make', '-', '--out', '@/out', '--json', '--edge-shift', '50 nm'],
    input: FLAT,
    code: 2,
    was: 'an option of pattern files that are not asked for was not named as what is wrong',
  },
  {
    use: 'plan',
    argv: plan,
    input: LEFT_OUT,
    code: 0,
    was: 'plan ended in an internal error where a patch names a reference that it may leave out',
  },
  ...(
    [
      ['a text for a figure', /"minPeriod_um": [^,]*/, '"minPeriod_um": "2.7"'],
      ['a text for the list of rules', /"rules": \[[^\]]*\]/, '"rules": "not-observed"'],
      ['a number for the list of parameters', /"parameters": \[\]/, '"parameters": 7'],
      ['a number for the extent', /"extent_mm": \[[^\]]*\]/, '"extent_mm": 75'],
      ['a text for the number of entries', /"total": 3/, '"total": 3.5'],
    ] as const
  ).map(([what, from, to]): KeptCase => {
    const was = `gathering ended in an internal error, or went on: ${what} in a summary`;
    return { use: 'gather', argv: gather, files: touched(from, to), code: 2, was };
  }),
];
