/// <reference lib="dom" />
/** What `make` has put into the page: the design to align, and where it comes from. */
import type { Design } from '../design/design.ts';
import { designScenario } from '../design/design-scenario.ts';
import type { ScenarioHashes } from '../scenario/bench-session.ts';
import type { CameraOrientation } from '../scenario/camera-orientation.ts';
import { scenarioFrom } from '../scenario/scenario-data.ts';

export interface Job {
  readonly design: Design;
  readonly version: string;
  /** The design breaks a rule: NOT FOR FABRICATION. */
  readonly draft: boolean;
  readonly scenario: ScenarioHashes;
  readonly orientation: CameraOrientation;
}

/** Throws where the page is damaged. */
export function jobOf(page: Document): Job {
  const given = JSON.parse(dataOf(page, 'job')) as Omit<Job, 'design'>;
  const designed = designScenario(scenarioFrom(dataOf(page, 'scenario')));
  if ('findings' in designed) throw new Error(designed.findings[0]?.message ?? 'the design cannot be read');
  return { ...given, design: designed.design };
}

function dataOf(page: Document, id: string): string {
  const text = page.getElementById(id)?.textContent;
  if (text == null) throw new Error(`the page has lost its ${id}: take it from the package again`);
  return text;
}
