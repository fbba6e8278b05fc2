/** A Design from the words of a scenario, by the program's own reader, with what a test does not care about filled in. */
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { type FileSource, readScenario } from '../../../src/reading/scenario/read-scenario.ts';

export type Words = Readonly<Record<string, unknown>>;

const PLAIN: Words = {
  format: 'datumlight/1',
  light: { wavelength: '632.8 nm' },
  interferometer: { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 1000, readable: 0.1 },
  substrate: { outline: { circle: { diameter: 150 } } },
  references: [],
  patches: [],
};

/** JSON is YAML. Throws with the findings where the words make no design. */
export function designFrom(words: Words, files?: FileSource): Design {
  const read = readScenario(JSON.stringify({ ...PLAIN, ...words }), 'test.yaml', undefined, files);
  if (read.scenario === undefined) throw new Error(read.findings.map(({ message }) => message).join('\n'));
  const made = designScenario(read.scenario);
  if ('findings' in made) throw new Error(made.findings.map(({ message }) => message).join('\n'));
  return made.design;
}

export const square = (width: number, rotation = 0): Words => ({
  rectangle: { width, height: width, rotation },
});

/** A 10 mm line-focus patch. */
export const linePatch = (
  id: string,
  reference: string,
  centre: readonly [number, number],
  lineAngle: number,
  width = 10,
): Words => ({ id, reference, focus: 'line', centre, lineAngle, outline: square(width) });

/** A round point-focus patch. */
export const pointPatch = (
  id: string,
  reference: string,
  centre: readonly [number, number],
  diameter = 10,
): Words => ({ id, reference, focus: 'point', centre, outline: { circle: { diameter } } });
