/**
 * What moved between two packages of one scenario, in a designer's terms: which parameter or datum changed, which patches and
 * references moved and by how many µm, which periods, resolutions, uncertainties and findings are others. Compared are the
 * reports (report.ts) and, where a patch stands still, its phase at the points of samples.csv.
 */
import { DEGREES, MAIN } from '../../scenario/scenario.ts';
import type { Report, ReportedPatch } from '../report/report-form.ts';
import { nullMoved } from './difference-null.ts';
import { samplesMoved } from './difference-samples.ts';
import {
  boxOf,
  FIGURE_ROUNDING,
  fieldChanges,
  isRecord,
  listBy,
  listOf,
  type NumberChange,
  numberChange,
  type ValueChange,
  vectorMove,
} from './difference-values.ts';

/** Contents by file name. */
type ReadPackage = ReadonlyMap<string, string>;

export type About = 'version' | 'parameter' | 'datum' | 'input' | 'patch' | 'reference' | 'part' | 'finding';

/** One thing that is not what it was. */
export interface Change extends ValueChange {
  readonly about: About;
  /** The parameter, datum, patch, reference or finding's rule that it is about; empty for the part and the version. */
  readonly id: string;
  /** Such as `diameter_mm`, `centre`, `period min`, `appeared`. */
  readonly what: string;
  readonly unit?: string;
}

/** The packages' changes, what was put in first, then what comes out of it; empty where no figure differs. */
export function changesBetween(before: ReadPackage, after: ReadPackage): readonly Change[] {
  const [old, fresh] = [reportIn(before), reportIn(after)];
  const moved = new Map(samplesMoved(before.get('samples.csv') ?? '', after.get('samples.csv') ?? ''));
  const main = nullMoved(before, after);
  if (main !== undefined) moved.set(MAIN, main);
  return [
    ...versionChanges(old, fresh),
    ...parameterChanges(old, fresh),
    ...datumChanges(old, fresh),
    ...inputChanges(old, fresh),
    ...mainChanges(old, fresh, moved),
    ...patchChanges(old, fresh, moved),
    ...referenceChanges(old, fresh),
    ...partChanges(old, fresh),
    ...findingChanges(old, fresh),
  ];
}

/** A report as another version may have written it: any of it may be missing. */
type Written<Value> = Value extends readonly (infer Entry)[]
  ? readonly Written<Entry>[]
  : Value extends object
    ? { readonly [Key in keyof Value]?: Written<Value[Key]> | null }
    : Value;
type WrittenReport = Written<Report>;

function reportIn(files: ReadPackage): WrittenReport {
  try {
    const report: unknown = JSON.parse(files.get('report.json') ?? '');
    return isRecord(report) ? report : {};
  } catch {
    return {};
  }
}

function versionChanges(old: WrittenReport, fresh: WrittenReport): Change[] {
  return fieldChanges(
    { version: old.version, draft: old.draft },
    { version: fresh.version, draft: fresh.draft },
  ).map((change) => ({ about: 'version', id: '', ...change }));
}

function parameterChanges(old: WrittenReport, fresh: WrittenReport): Change[] {
  const [before, after] = [old, fresh].map(({ scenario }) => listBy(scenario?.parameters, 'name'));
  return eachOf(before!, after!, 'parameter', (was, is, id) => {
    const unit = is.unit ?? '';
    if (was.unit !== is.unit) {
      const shown = (of: typeof was): string => `${of.value} ${of.unit}`.trim();
      return [{ about: 'parameter', id, what: 'value', before: shown(was), after: shown(is) }];
    }
    return changeOf('parameter', id, 'value', numberChange(was.value, is.value), unit);
  });
}

function datumChanges(old: WrittenReport, fresh: WrittenReport): Change[] {
  const byId = ({ scenario }: WrittenReport) => new Map(Object.entries(scenario?.datums ?? {}));
  return eachOf(byId(old), byId(fresh), 'datum', (was, is, id) =>
    fieldChanges({ ...was }, { ...is }).map((change) => ({ about: 'datum', id, ...change })),
  );
}

function inputChanges(old: WrittenReport, fresh: WrittenReport): Change[] {
  const input = ({ scenario, substrate }: WrittenReport): Record<string, unknown> => ({
    ...scenario?.input,
    title: scenario?.title,
    file: scenario?.files,
    glass: substrate?.glass,
    index: substrate?.index,
  });
  return fieldChanges(input(old), input(fresh)).map(({ what, ...change }) => {
    const [id, ...rest] = what.split('.');
    return { about: 'input', id: id!, what: rest.join('.') || 'value', ...change };
  });
}

/** The null of the surface under test: what takes the place of `main` among the patches. */
function mainChanges(
  old: WrittenReport,
  fresh: WrittenReport,
  phases: ReadonlyMap<string, number>,
): Change[] {
  const byId = ({ test }: WrittenReport) => new Map(isRecord(test) ? [[MAIN, test]] : []);
  return eachOf(byId(old), byId(fresh), 'patch', (was, is, id) => {
    const [before, after] = [was, is].map(({ footprint }) => boxOf(footprint));
    const figures = [
      ['footprint width', before?.size[0], after?.size[0], 'mm'],
      ['footprint height', before?.size[1], after?.size[1], 'mm'],
      ['smallest period', was.period_um?.min, is.period_um?.min, 'um'],
      ['largest period', was.period_um?.max, is.period_um?.max, 'um'],
      ['expected figure error', was.figure_nm?.expected, is.figure_nm?.expected, 'nm'],
    ] as const;
    return [
      ...moveOf('patch', id, 'footprint', before?.middle, after?.middle),
      ...figures.flatMap(([what, then, now, unit]) => figureChange('patch', id, what, then, now, unit)),
      ...phaseChange(id, phases),
    ];
  });
}

function phaseChange(id: string, phases: ReadonlyMap<string, number>): Change[] {
  const by = phases.get(id);
  const moved = {
    about: 'patch',
    id,
    what: 'phase at the same place',
    before: null,
    after: null,
    unit: 'waves',
  } as const;
  return by === undefined ? [] : [{ ...moved, by }];
}

type WrittenPatch = Written<ReportedPatch>;

const PATCH_FIGURES: readonly (readonly [
  of: (patch: WrittenPatch) => unknown,
  what: string,
  unit: string,
])[] = [
  [({ period_um }) => period_um?.min, 'smallest period', 'um'],
  [({ period_um }) => period_um?.max, 'largest period', 'um'],
  [({ resolution_um }) => resolution_um, 'one reading', 'um'],
  [({ distance_mm }) => distance_mm, 'distance', 'mm'],
  [({ fresnelNumber }) => fresnelNumber, 'Fresnel number', ''],
  [({ bias }) => bias?.fringesAtNull, 'fringes at null', 'fringes'],
  [({ bias }) => bias?.fringes, 'bias specified', 'fringes'],
  [({ order }) => order, 'order', ''],
];

function patchChanges(
  old: WrittenReport,
  fresh: WrittenReport,
  phases: ReadonlyMap<string, number>,
): Change[] {
  return eachOf(listBy(old.patches, 'id'), listBy(fresh.patches, 'id'), 'patch', (was, is, id) => {
    const change = { about: 'patch', id } as const;
    const words = (['reference', 'focus'] as const).flatMap((key) =>
      was[key] === is[key]
        ? []
        : [{ ...change, what: key, before: was[key] ?? null, after: is[key] ?? null }],
    );
    const outline = fieldChanges(sizeOf(was.outline), sizeOf(is.outline)).map((size) => ({
      ...change,
      ...size,
      what: `outline ${size.what}`,
    }));
    const figures = PATCH_FIGURES.flatMap(([of, what, unit]) =>
      figureChange('patch', id, what, of(was), of(is), unit),
    );
    return [
      ...words,
      ...moveOf('patch', id, 'centre', was.centre, is.centre),
      ...moveOf('patch', id, 'target', was.target, is.target),
      ...outline,
      ...figures,
      ...phaseChange(id, phases),
    ];
  });
}

/** An outline without its place, which is the patch's. */
function sizeOf(outline: unknown): Record<string, unknown> {
  if (!isRecord(outline)) return {};
  const { centre_mm: _, points_mm: points, ...size } = outline;
  return Array.isArray(points) ? { ...size, corners: points.length } : size;
}

function referenceChanges(old: WrittenReport, fresh: WrittenReport): Change[] {
  return eachOf(listBy(old.references, 'id'), listBy(fresh.references, 'id'), 'reference', (was, is, id) => [
    ...moveOf('reference', id, 'place', was.at, is.at),
    ...(['x', 'y', 'z'] as const).flatMap((axis) =>
      figureChange('reference', id, `sigma ${axis}`, was.sigma_um?.[axis], is.sigma_um?.[axis], 'um'),
    ),
  ]);
}

function partChanges(old: WrittenReport, fresh: WrittenReport): Change[] {
  return DEGREES.flatMap((degree) => {
    const [was, is] = [old, fresh].map(({ part }) => part?.sigma?.[degree]);
    return figureChange('part', '', `sigma ${degree}`, was, is, degree.startsWith('r') ? 'urad' : 'um');
  });
}

/** A finding is the same one where rule, severity and place are; its words may have changed. */
function findingChanges(old: WrittenReport, fresh: WrittenReport): Change[] {
  const [before, after] = [sayings(old), sayings(fresh)];
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): Change[] => {
    const [was, is] = [before.get(key), after.get(key)];
    if (was?.said === is?.said) return [];
    const what = was === undefined ? 'appeared' : is === undefined ? 'gone' : 'changed';
    const { rule } = (was ?? is)!;
    return [{ about: 'finding', id: rule, what, before: was?.said ?? null, after: is?.said ?? null }];
  });
}

function sayings({
  findings,
}: WrittenReport): ReadonlyMap<string, { readonly rule: string; readonly said: string }> {
  const said = new Map<string, { rule: string; said: string }>();
  const times = new Map<string, number>();
  for (const { severity, rule, where, message } of listOf(findings)) {
    const key = `${rule} ${severity} ${where}`;
    const again = times.get(key) ?? 0;
    times.set(key, again + 1);
    said.set(`${key} ${again}`, { rule: String(rule), said: `${severity} at ${where}: ${message}` });
  }
  return said;
}

function eachOf<Entry>(
  before: ReadonlyMap<string, Entry>,
  after: ReadonlyMap<string, Entry>,
  about: About,
  compare: (was: Entry, is: Entry, id: string) => readonly Change[],
): Change[] {
  const ids = [...new Set([...before.keys(), ...after.keys()])];
  return ids.flatMap((id) => {
    const [was, is] = [before.get(id), after.get(id)];
    if (was === undefined) return [{ about, id, what: 'added', before: null, after: 'there' }];
    if (is === undefined) return [{ about, id, what: 'removed', before: 'there', after: null }];
    return compare(was, is, id);
  });
}

function changeOf(
  about: About,
  id: string,
  what: string,
  change: NumberChange | undefined,
  unit: string,
): Change[] {
  if (change === undefined) return [];
  return [{ about, id, what, ...change, ...(unit === '' ? {} : { unit }) }];
}

function moveOf(about: About, id: string, what: string, was: unknown, is: unknown): Change[] {
  const move = vectorMove(was, is);
  return move === undefined ? [] : [{ about, id, what, ...move, unit: 'um' }];
}

/** Fringes of a trace that are none: its iteration's last steps. */
const NO_FRINGES = 1e-6;

function figureChange(
  about: About,
  id: string,
  what: string,
  was: unknown,
  is: unknown,
  unit: string,
): Change[] {
  const change = numberChange(was, is, FIGURE_ROUNDING);
  if (unit === 'fringes' && Math.abs(change?.by ?? 1) < NO_FRINGES) return [];
  return changeOf(about, id, what, change, unit);
}
