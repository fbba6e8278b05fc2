/** A small invented design for the pattern files: a roof, closed rings, a ring in parts and a saddle on one substrate. */
import type { Design } from '../../../src/design/design.ts';
import {
  type PatternFormat,
  type PatternOptions,
  type PatternSummary,
  PatternWriter,
} from '../../../src/writing/pattern/write-pattern.ts';
import { rectangle, samplePatch } from '../../pattern/sample-patches.ts';

export const patternDesign = (
  ids: readonly string[] = ['north-1', 'rings', 'ring patch', 'saddle'],
): Design => {
  const [roof, rings, ring, saddle] = ids as [string, string, string, string];
  const patches = [
    samplePatch({
      id: roof,
      outline: rectangle([0, 20], 2),
      centre: [0, 20],
      target: [0, 80, 900],
      lineAngle: Math.PI / 2,
      bias: { shape: 'roof', fringes: 3, direction: undefined },
    }),
    samplePatch({
      id: rings,
      outline: { shape: 'circle', centre: [0, 0], radius: 1.2 },
      centre: [0, 0],
      target: [0, 0, 100],
      beam: 'collimated',
      glass: 'none',
    }),
    samplePatch({
      id: ring,
      outline: { shape: 'ring', centre: [10, 0], inner: 0.7, outer: 1.3 },
      centre: [11, 0],
      target: [60, 0, 400],
    }),
    samplePatch({
      id: saddle,
      outline: rectangle([20, 0], 4),
      centre: [20, 0],
      target: [20, 0, 300],
      lineAngle: 0.3,
      beam: 600,
    }),
  ];
  // The writers read the patches, the light, the process and the substrate's outline of a design.
  return {
    patches,
    light: { wavelength: 632.8e-6 },
    scenario: {
      process: { dutyCycle: 0.45, minFeature: 5e-4 },
      keepOuts: [],
      seats: [],
      substrate: { outline: { shape: 'ring', centre: [0, 0], inner: 30, outer: 50 } },
    },
  } as unknown as Design;
};

export function written(
  design: Design,
  { format, ...options }: PatternOptions & { readonly format: PatternFormat },
): { bytes: Buffer; summary: PatternSummary } {
  const pieces: Uint8Array[] = [];
  const summary = writtenTo(design, options, [{ format, sink: (bytes) => pieces.push(bytes.slice()) }]);
  return { bytes: Buffer.concat(pieces), summary };
}

/** All cells on this thread. */
export function writtenTo(
  design: Design,
  options: PatternOptions,
  outputs: ConstructorParameters<typeof PatternWriter>[2],
): PatternSummary {
  const writer = new PatternWriter(design, options, outputs);
  writer.begin();
  for (let k = 0; k < writer.cells; k++) writer.cell(k);
  return writer.end();
}
