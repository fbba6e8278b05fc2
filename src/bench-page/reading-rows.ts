/**
 * The rows in which readings are typed, and from what stands in them the text of a readings file: what the page works out is what the
 * file would give, and what is wrong is said by the file's reader.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { kindOf } from '../kinds/kinds.ts';
import { isRing } from '../metrology/rings/ring-trace.ts';
import { sensesOf } from '../metrology/sensing/sensitivity.ts';
import type { BenchReading } from '../scenario/bench-reading.ts';
import type { CameraOrientation } from '../scenario/camera-orientation.ts';
import { MAIN } from '../scenario/scenario.ts';
import { benchText, readingEntry } from '../writing/session/session-text.ts';
import { alignedWords, senseWords } from '../writing/steering/readings-template.ts';
import type { Entries, Fields } from './bench-state.ts';

export interface Row {
  readonly key: string;
  /** The patch's number on the sheet; empty for a length. */
  readonly number: string;
  readonly name: string;
  /** Whose it is, and what it shows when aligned. */
  readonly about: string;
  /** What counts as positive, a line each. */
  readonly signs: (orientation: CameraOrientation) => readonly string[];
  readonly counts: readonly Count[];
  /** Whether it takes an hour, a total, a second reading, an unknown sign, an uncertainty. */
  readonly options: readonly Option[];
  readonly patch: DesignedPatch | undefined;
}

interface Count {
  readonly field: string;
  readonly words: string;
}

export type Option = 'toward' | 'counted' | 'or' | 'sign' | 'uncertainty';

export function readingRows(design: Design): readonly Row[] {
  const patches = design.patches.flatMap((patch, k): readonly Row[] =>
    kindOf(patch.reference).words.noCount === undefined ? [patchRow(design, patch, k + 1)] : [],
  );
  const lengths = design.scenario.measurements.map(
    ({ id, reference }): Row => ({
      ...{ key: `length ${id}`, number: '', name: id, patch: undefined, options: [] },
      about: `measured at ${reference}`,
      signs: () => ['found less nominal, µm'],
      counts: [{ field: 'deviation', words: 'deviation, µm' }],
    }),
  );
  return [...patches, ...lengths, ...(design.main === undefined ? [] : [NULL_ROW])];
}

const NULL_ROW: Row = {
  ...{ key: MAIN, number: 'M', name: MAIN, patch: undefined, options: ['sign', 'uncertainty'] },
  about: 'the null of the surface under test',
  signs: () => [
    '+ where the path falls from the − edge to the + edge along the substrate’s x, y; power: from the middle to the edge',
  ],
  counts: [
    { field: 'first', words: 'fringes along x' },
    { field: 'second', words: 'fringes along y' },
    { field: 'power', words: 'power' },
    { field: 'comaX', words: 'coma along x' },
    { field: 'comaY', words: 'coma along y' },
  ],
};

function patchRow(design: Design, patch: DesignedPatch, number: number): Row {
  const ring = isRing(patch);
  const tilts = sensesOf(design, patch).filter(({ kind }) => kind === 'tilt');
  const words = ring
    ? ['fringes along x', 'fringes along y']
    : tilts.map((_, k) => tiltWords(tilts.length, k));
  return {
    ...{ key: `patch ${patch.id}`, number: String(number), name: patch.id, patch },
    about: `${patch.reference.id}; aligned it shows ${alignedWords(patch)}`,
    signs: (orientation) =>
      ring
        ? ['+ where the path falls from the − edge to the + edge, or from the inner edge to the outer']
        : sensesOf(design, patch).map((sense) => senseWords(sense, orientation)),
    counts: [
      ...words.map((each, k) => ({ field: k === 0 ? 'first' : 'second', words: each })),
      ...(patch.lineDirection === undefined ? [{ field: 'power', words: 'power' }] : []),
    ],
    options: [
      'toward',
      'counted',
      ...(patch.bias?.shape === 'tilt' ? (['or'] as const) : []),
      'sign',
      'uncertainty',
    ],
  };
}

const tiltWords = (count: number, k: number): string =>
  count === 1 ? 'fringes' : k === 0 ? 'fringes, first direction' : 'fringes, second direction';

/** The rows that are filled in, in the file's order, and the file. */
export function readingsText(
  rows: readonly Row[],
  entries: Entries,
  orientation: CameraOrientation,
): { readonly filled: readonly Row[]; readonly text: string; readonly plain: object } {
  const filled = rows.filter(({ key, counts }) => {
    const fields = entries.get(key)?.fields ?? {};
    return [...counts.map(({ field }) => field), 'toward'].some((field) => !isBlank(fields[field]));
  });
  const readings = filled.map((row) => entryOf(row, entries.get(row.key)!.fields));
  const { view, turned, mirrored } = orientation;
  const plain = { format: 'datumlight-readings/1', camera: { view, turned, mirrored }, readings };
  return { filled, text: benchText(plain), plain: { camera: plain.camera, readings } };
}

const isBlank = (text: string | undefined): boolean => text === undefined || text.trim() === '';

/** As a person writes it; a plain number as a number. */
function written(text: string | undefined): string | number | null {
  if (isBlank(text)) return null;
  const trimmed = text!.trim().replace(/^\u2212/, '-');
  return /^[+-]?\d+(\.\d+)?$/.test(trimmed) ? Number(trimmed) : trimmed;
}

/** Of a second reading, between semicolons: a comma may be a decimal one. */
const listIn = (text: string): readonly (string | number | null)[] => text.split(';').map(written);

function entryOf({ key, name, counts }: Row, fields: Fields): Record<string, unknown> {
  const given = (field: string): string | number | null => written(fields[field]);
  if (key.startsWith('length ')) return { measurement: name, deviation_um: given('deviation') };
  const has = (field: string): boolean => !isBlank(fields[field]);
  const [first, second] = [given('first'), given('second')];
  const isPair = counts.some(({ field }) => field === 'second') && !(has('toward') && !has('second'));
  const isRead = first !== null || second !== null;
  return {
    patch: name,
    ...(isRead ? { fringes: isPair ? [first, second] : first } : {}),
    ...(has('power') ? { power: given('power') } : {}),
    ...(has('comaX') || has('comaY') ? { coma: [given('comaX'), given('comaY')] } : {}),
    ...(has('toward') ? { toward: given('toward') } : {}),
    ...(has('counted') ? { counted: 'total' } : {}),
    ...(has('or') ? { or: listIn(fields.or!) } : {}),
    ...(has('sign') ? { sign: 'unknown' } : {}),
    ...(has('uncertainty') ? { uncertainty: given('uncertainty') } : {}),
  };
}

/** What would be typed for a reading along the senses: a round from a file, taken back to be changed, or a frame's reading. */
export function fieldsOf(reading: BenchReading): { readonly key: string; readonly fields: Fields } {
  const entry = readingEntry(reading) as Record<string, unknown>;
  if (reading.kind === 'length')
    return { key: `length ${reading.measurement}`, fields: { deviation: text(entry.deviation_um) } };
  const fringes = Array.isArray(entry.fringes) ? entry.fringes : [entry.fringes];
  const coma = Array.isArray(entry.coma) ? entry.coma : [];
  const fields = {
    ...{ first: text(fringes[0]), second: text(fringes[1]), power: text(entry.power) },
    ...{ comaX: text(coma[0]), comaY: text(coma[1]), uncertainty: text(entry.uncertainty) },
    ...(Array.isArray(entry.or)
      ? { or: entry.or.map(text).join('; ') }
      : { sign: reading.signKnown ? '' : 'unknown' }),
  };
  return { key: reading.kind === 'null' ? MAIN : `patch ${reading.patch}`, fields };
}

const text = (value: unknown): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(6))) : '';
