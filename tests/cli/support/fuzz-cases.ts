/** Inputs that the fuzz has found something with, made small: each is asked again in every run, and held to the laws. */
import { readFileSync } from 'node:fs';
import type { Asked } from './fuzz-asked.ts';
import { TRACKED } from './fuzz-bench.ts';

export interface KeptCase extends Pick<Asked, 'use' | 'argv'> {
  /** What was wrong with the answer. */
  readonly was: string;
  readonly code: number;
  readonly input?: string;
  readonly files?: Readonly<Record<string, string>>;
}

/** A collimated beam that meets a plane square on. */
const FLAT = `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {collimated: true, beamDiameter: 145}
substrate: {outline: {circle: {diameter: 150}}, thickness: 6, glass: fused silica, patternFaces: part}
references: [{id: ring, kind: return}]
patches: [{id: ring, reference: ring, focus: return, centre: [0, 0], outline: {ring: {inner: 126, outer: 132}}}]
`;

export const KEPT: readonly KeptCase[] = [
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
    argv: ['make', '-', '--out', '@/out', '--json'],
    input: FLAT,
    code: 0,
    was: 'a pattern without lines has no least period: null where the schema of the report has a number',
  },
];
