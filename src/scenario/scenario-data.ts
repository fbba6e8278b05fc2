/**
 * A Scenario as text for another program of this project, the bench page, and back: JSON, with tags for what JSON has no words for. mm,
 * radians and waves as they stand.
 *
 * Numbers are whole doubles: a move along a direction that the readings hardly see multiplies their last digit by a million. What only
 * takes room or stands in the light is left out: solids and their meshes, obstacles, the sweep.
 */
import type { Scenario } from './scenario.ts';

/** The key that marks an object as something else than itself. */
const TAG = '$';

export function scenarioData({ sweep: _, ...scenario }: Scenario): string {
  const slim = { ...scenario, obstacles: [], part: { ...scenario.part, envelope: [] } };
  return JSON.stringify(tagged(slim));
}

/** Throws a SyntaxError for a text that `scenarioData` has not written. */
export const scenarioFrom = (text: string): Scenario => untagged(JSON.parse(text)) as Scenario;

function tagged(value: unknown): unknown {
  if (typeof value === 'number') return numberTagged(value);
  if (typeof value === 'function') throw new TypeError('a scenario holds data only, and here is a function');
  if (value === undefined) return { [TAG]: 'none' };
  if (typeof value !== 'object' || value === null) return value;
  if (value instanceof Float64Array) return { [TAG]: 'numbers', of: Array.from(value, numberTagged) };
  if (value instanceof Map) return { [TAG]: 'map', of: tagged([...value]) };
  if (Array.isArray(value)) return value.map(tagged);
  return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, tagged(member)]));
}

const numberTagged = (value: number): unknown =>
  Number.isFinite(value) && !Object.is(value, -0)
    ? value
    : { [TAG]: Object.is(value, -0) ? '-0' : String(value) };

type Tagged = { readonly [TAG]?: string; readonly of?: readonly unknown[] };

function untagged(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(untagged);
  const { [TAG]: tag, of = [] } = value as Tagged;
  switch (tag) {
    case undefined:
      return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, untagged(member)]));
    case 'none':
      return undefined;
    case 'numbers':
      return Float64Array.from(of, (one) => untagged(one) as number);
    case 'map':
      return new Map(untagged(of) as [unknown, unknown][]);
    default:
      return Number(tag);
  }
}
