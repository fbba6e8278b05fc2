/** Frames for the fuzz: small ones of a bench in place and out of it, in several forms, with bytes changed; grids of numbers; and what is none. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { wholeFrame } from '../../../src/metrology/camera/whole-frame.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import { type Grey, npy, pgm, png, tiff } from '../../reading/frames/frame-bytes.ts';
import { BALLS, STEERED } from './fuzz-bench.ts';
import { withBytesChanged } from './fuzz-mutation.ts';
import { bytesOf } from './fuzz-scenarios.ts';

/** Pixels a side: patches of about twenty, most of which can be read. */
const SIDE = 260;

function framesOf(file: string): readonly Grey[] {
  const text = readFileSync(file, 'utf8').replace(/pixelsAcrossBeam: \d+/, '');
  const { scenario } = readScenario(
    text.replace(/\n\s*\n/g, '\n').replace('interferometer:', `interferometer:\n  pixelsAcrossBeam: ${SIDE}`),
    file,
  );
  const made = designScenario(scenario!);
  if ('findings' in made) throw new Error(file);
  const part = { translation: [0.003, 0.001, 0], rotation: [0, 0, 0] } as const;
  return [{}, { part }].map((displacements) => {
    const { width, height, grey } = wholeFrame(made.design, {
      orientation: PLAIN_ORIENTATION,
      displacements,
      noise: 0.02,
    });
    return { width, height, samples: [...grey] };
  });
}

const head = ({ width, height }: Grey, type: string): string =>
  `{'descr': '${type}', 'fortran_order': False, 'shape': (${height}, ${width}), }`;
const forms = (grey: Grey): readonly Uint8Array[] => [
  png(grey, 8),
  tiff([grey], { bits: 8 }),
  tiff([grey, grey], { bits: 8, deflate: true, rowsPerStrip: 16 }),
  pgm(grey, 255),
  npy(head(grey, '|u1'), Uint8Array.from(grey.samples)),
  npy(head(grey, '<f4'), new Uint8Array(Float32Array.from(grey.samples, (value) => value / 300).buffer)),
  bytesOf(
    `unit: waves\n${Array.from({ length: 40 }, (_, row) =>
      grey.samples
        .slice(row * 40, row * 40 + 40)
        .map((value) => value / 255)
        .join(','),
    ).join('\n')}`,
  ),
];

/** The picture of the first bench out of place in every form, the others as PNG. */
const sound = [STEERED, BALLS].flatMap(({ file }, bench) =>
  framesOf(file).flatMap((grey, displaced) =>
    (bench === 0 && displaced === 1 ? forms(grey) : [png(grey, 8)]).map((frame) => ({
      scenario: file,
      frame,
    })),
  ),
);

export const anyFrame: fc.Arbitrary<{ readonly scenario: string; readonly frame: Uint8Array }> = fc
  .constantFrom(...sound)
  .chain(({ scenario, frame }) =>
    fc
      .oneof(
        { weight: 3, arbitrary: fc.constant(frame) },
        { weight: 3, arbitrary: withBytesChanged(fc.constant(frame), 3) },
        { weight: 1, arbitrary: fc.uint8Array({ maxLength: 300 }) },
      )
      .map((bytes) => ({ scenario, frame: bytes })),
  );
