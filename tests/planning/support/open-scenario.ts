/** Scenarios with open places, by the program's own reader, and a plan driven to its end. */
import { type Plan, type PlanOptions, plan } from '../../../src/planning/plan.ts';
import { readOpenScenario } from '../../../src/reading/scenario/read-scenario.ts';
import type { OpenPlaces } from '../../../src/scenario/open-places.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';

export type Words = Readonly<Record<string, unknown>>;

const PLAIN: Words = {
  format: 'datumlight/1',
  light: { wavelength: '632.8 nm' },
  interferometer: { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 1000, readable: 0.1 },
  substrate: { outline: { circle: { diameter: 150 } }, edgeMargin: 3, clearance: 0.5 },
  keepOuts: [{ id: 'main', outline: { circle: { diameter: 90 } } }],
  part: { origin: [0, 0, 150] },
  references: [],
  patches: [],
};

export function openScenario(words: Words): { scenario: Scenario; open: OpenPlaces; text: string } {
  const text = JSON.stringify({ ...PLAIN, ...words });
  return { ...openFrom(text), text };
}

export function openFrom(text: string): { scenario: Scenario; open: OpenPlaces } {
  const { scenario, open, findings } = readOpenScenario(text, 'test.yaml');
  if (scenario === undefined || open === undefined)
    throw new Error(findings.map(({ message }) => message).join('\n'));
  return { scenario, open };
}

export function planned(words: Words, options: Partial<PlanOptions> = {}): Plan {
  const { scenario, open } = openScenario(words);
  return finished(scenario, open, options);
}

export function finished(scenario: Scenario, open: OpenPlaces, options: Partial<PlanOptions> = {}): Plan {
  const search = plan(scenario, open, { seed: 'test', ...options });
  for (;;) {
    const next = search.next();
    if (next.done) return next.value;
  }
}

/** Balls about the axis, as on the rim of a small mirror's cell. */
export const balls = (count: number, more: Words = {}, radius = 84, z = 130): Words[] =>
  Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * k) / count + 0.3;
    return {
      id: `b${k + 1}`,
      kind: 'ball',
      diameter: 12.7,
      at: [radius * Math.cos(angle), radius * Math.sin(angle), z],
      ...more,
    };
  });
