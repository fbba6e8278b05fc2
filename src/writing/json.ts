/**
 * JSON with the same bytes everywhere: keys sorted, numbers to twelve significant digits, no -0, LF, a closing newline.
 * Controls, invisible characters and bidirectional marks stand as `\u` escapes, since the text also goes to terminals.
 * A number that is not finite becomes null, since JSON has none: an unobserved σ, a period where the phase is stationary.
 */
import { withoutRawControls } from '../finding/visible-text.ts';

const DIGITS = 12;

export function jsonText(value: unknown): string {
  return `${withoutRawControls(JSON.stringify(canonical(value), undefined, 2))}\n`;
}

function canonical(value: unknown): unknown {
  if (typeof value === 'number') return canonicalNumber(value);
  if (Array.isArray(value)) return value.map(canonical);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).filter(([, member]) => member !== undefined);
  entries.sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, member]) => [key, canonical(member)]));
}

function canonicalNumber(value: number): number | null {
  if (!Number.isFinite(value)) return null;
  return Number(value.toPrecision(DIGITS)) + 0;
}
