/** Small scenarios for tests of the reader: one word replaced at a time. */
import type { Finding } from '../../../src/finding/finding.ts';

const BASE = {
  light: '{wavelength: 632.8 nm}',
  interferometer: '{focus: [0, 0, -500], fNumber: 3}',
  substrate: '{outline: {circle: {diameter: 150}}}',
  references: '[{id: r, kind: ball, diameter: 12.7, at: [0, 100, 300]}]',
};

const PATCH = {
  focus: 'point',
  centre: '[0, 60]',
  outline: '{rectangle: {width: 5, height: 5}}',
  reference: 'r',
  id: 'p',
};

/**
 * A sound scenario, a line a word, with words replaced or added: `format` on line 1, then light, interferometer, substrate,
 * references, others, patches. Words of a patch (`outline`, `centre`, `lineAngle`, …) go to its one patch.
 */
export function scenarioWith(words: Readonly<Record<string, string>> = {}): string {
  const ofPatch = ['focus', 'centre', 'outline', 'reference', 'id', 'lineAngle', 'order', 'bias'];
  const own = Object.entries(words);
  const patch = { ...PATCH, ...Object.fromEntries(own.filter(([key]) => ofPatch.includes(key))) };
  const patches = `[{${Object.entries(patch)
    .map(([key, value]) => `${key}: ${value}`)
    .join(', ')}}]`;
  const top = { ...BASE, ...Object.fromEntries(own.filter(([key]) => !ofPatch.includes(key))) };
  const all: Record<string, string> = { format: 'datumlight/1', ...top };
  const { patches: given, ...rest } = all;
  const lines = [...Object.entries(rest), ['patches', given ?? patches]].map(
    ([key, value]) => `${key}: ${value}`,
  );
  return `${lines.join('\n')}\n`;
}

/** Line and code of each finding. */
export const brief = (findings: readonly Finding[]): (readonly [number | undefined, string])[] =>
  findings.map(({ place, rule }) => [place?.line, rule]);
