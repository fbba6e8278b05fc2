/**
 * What moved between two packages of one scenario, in a designer's terms: which parameter or datum changed, which patches and
 * references moved and by how many µm, which periods, resolutions, uncertainties and findings are others. Compared are the
 * reports (report.ts) and, where a patch stands still, its phase at the points of samples.csv.
 */
import { samplesMoved } from './difference-samples.ts';
import {
  FIGURE_ROUNDING,
  fieldChanges,
  isRecord,
  listById,
  type NumberChange,
  numberChange,
  vectorMove,
} from './difference-values.ts';

/** Contents by file name. */
type ReadPackage = ReadonlyMap<string, string>;

export type About = 'version' | 'parameter' | 'datum' | 'input' | 'patch' | 'reference' | 'part' | 'finding';

/** One thing that is not what it was. */
export interface Change {
  readonly about: About;
  /** The parameter, datum, patch, reference or finding's rule that it is about; empty for the part and the version. */
  readonly id: string;
  /** Such as `diameter_mm`, `centre`, `period min`, `appeared`. */
  readonly what: string;
  readonly before: string | number | boolean | null;
  readonly after: string | number | boolean | null;
  /** After less before, or the distance moved; undefined where there is no such figure. */
  readonly by?: number;
  readonly unit?: string;
}

/** The packages' changes, what was put in first, then what comes out of it; empty where no figure differs. */
export function changesBetween(before: ReadPackage, after: ReadPackage): readonly Change[] {
  const [old, fresh] = [reportIn(before), reportIn(after)];
  const moved = samplesMoved(before.get('samples.csv') ?? '', after.get('samples.csv') ?? '');
  return [
    ...versionChanges(old, fresh),
    ...parameterChanges(old, fresh),
    ...datumChanges(old, fresh),
    ...inputChanges(old, fresh),
    ...patchChanges(old, fresh, moved),
    ...referenceChanges(old, fresh),
    ...partChanges(old, fresh),
    ...findingChanges(old, fresh),
  ];
}

type Report = Record<string, unknown>;

function reportIn(files: ReadPackage): Report {
  try {
    const report: unknown = JSON.parse(files.get('report.json') ?? '');
    return isRecord(report) ? report : {};
  } catch {
    return {};
  }
}

const inside = (report: Report, key: string): Report => {
  const value = report[key];
  return isRecord(value) ? value : {};
};

function versionChanges(old: Report, fresh: Report): Change[] {
  return fieldChanges(
    { version: old.version, draft: old.draft },
    { version: fresh.version, draft: fresh.draft },
  ).map((change) => ({ about: 'version', id: '', ...change }));
}

function parameterChanges(old: Report, fresh: Report): Change[] {
  const [before, after] = [old, fresh].map((report) =>
    listById(inside(report, 'scenario').parameters, 'name'),
  );
  return eachOf(before!, after!, 'parameter', (was, is, id) => {
    const unit = String(is.unit ?? '');
    if (was.unit !== is.unit) {
      const shown = (of: Report): string => `${of.value} ${of.unit}`.trim();
      return [{ about: 'parameter', id, what: 'value', before: shown(was), after: shown(is) }];
    }
    return changeOf('parameter', id, 'value', numberChange(was.value, is.value), unit);
  });
}

function datumChanges(old: Report, fresh: Report): Change[] {
  const byId = (report: Report) => new Map(Object.entries(inside(inside(report, 'scenario'), 'datums')));
  return eachOf(
    byId(old) as Map<string, Report>,
    byId(fresh) as Map<string, Report>,
    'datum',
    (was, is, id) => fieldChanges(was, is).map((change) => ({ about: 'datum', id, ...change })),
  );
}

function inputChanges(old: Report, fresh: Report): Change[] {
  const input = (report: Report): Report => ({
    ...inside(inside(report, 'scenario'), 'input'),
    title: inside(report, 'scenario').title,
    file: inside(inside(report, 'scenario'), 'files'),
    glass: inside(report, 'substrate').glass,
    index: inside(report, 'substrate').index,
  });
  return fieldChanges(input(old), input(fresh)).map(({ what, ...change }) => {
    const [id, ...rest] = what.split('.');
    return { about: 'input', id: id!, what: rest.join('.') || 'value', ...change };
  });
}

const PATCH_FIGURES: readonly (readonly [path: string, what: string, unit: string])[] = [
  ['period_um.min', 'smallest period', 'um'],
  ['period_um.max', 'largest period', 'um'],
  ['resolution_um', 'resolution', 'um'],
  ['distance_mm', 'distance', 'mm'],
  ['fresnelNumber', 'Fresnel number', ''],
  ['bias.fringesAtNull', 'fringes at null', 'fringes'],
  ['bias.fringes', 'bias asked for', 'fringes'],
  ['order', 'order', ''],
];

function patchChanges(old: Report, fresh: Report, phases: ReadonlyMap<string, number>): Change[] {
  return eachOf(listById(old.patches, 'id'), listById(fresh.patches, 'id'), 'patch', (was, is, id) => {
    const words = ['reference', 'focus'].flatMap((key) =>
      was[key] === is[key]
        ? []
        : [{ about: 'patch' as const, id, what: key, before: text(was[key]), after: text(is[key]) }],
    );
    const moves = [
      ...moveOf('patch', id, 'centre', was.centre, is.centre),
      ...moveOf('patch', id, 'target', was.target, is.target),
    ];
    const outline = fieldChanges(sizeOf(was.outline), sizeOf(is.outline)).map((change) => ({
      about: 'patch' as const,
      id,
      ...change,
      what: `outline ${change.what}`,
    }));
    const figures = PATCH_FIGURES.flatMap(([path, what, unit]) =>
      changeOf('patch', id, what, figureChange(at(was, path), at(is, path), unit), unit),
    );
    const phase = phases.get(id);
    return [
      ...words,
      ...moves,
      ...outline,
      ...figures,
      ...(phase === undefined
        ? []
        : [
            {
              about: 'patch' as const,
              id,
              what: 'phase where it stands',
              before: null,
              after: null,
              by: phase,
              unit: 'waves',
            },
          ]),
    ];
  });
}

/** An outline without its place, which is the patch's. */
function sizeOf(outline: unknown): Report {
  if (!isRecord(outline)) return {};
  const { centre: _, points, ...size } = outline;
  return Array.isArray(points) ? { ...size, corners: points.length } : size;
}

function referenceChanges(old: Report, fresh: Report): Change[] {
  return eachOf(
    listById(old.references, 'id'),
    listById(fresh.references, 'id'),
    'reference',
    (was, is, id) => [
      ...moveOf('reference', id, 'place', was.at, is.at),
      ...['x', 'y', 'z'].flatMap((axis) =>
        changeOf(
          'reference',
          id,
          `sigma ${axis}`,
          figureChange(at(was, `sigma_um.${axis}`), at(is, `sigma_um.${axis}`)),
          'um',
        ),
      ),
    ],
  );
}

function partChanges(old: Report, fresh: Report): Change[] {
  return ['x', 'y', 'z', 'rx', 'ry', 'rz'].flatMap((degree) => {
    const [was, is] = [old, fresh].map((report) => at(inside(report, 'part'), `sigma.${degree}`));
    return changeOf(
      'part',
      '',
      `sigma ${degree}`,
      figureChange(was, is),
      degree.startsWith('r') ? 'urad' : 'um',
    );
  });
}

/** A finding is the same one where rule, severity and place are; its words may have changed. */
function findingChanges(old: Report, fresh: Report): Change[] {
  const [before, after] = [sayings(old), sayings(fresh)];
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): Change[] => {
    const [was, is] = [before.get(key), after.get(key)];
    if (was?.said === is?.said) return [];
    const what = was === undefined ? 'appeared' : is === undefined ? 'gone' : 'changed';
    const { rule } = (was ?? is)!;
    return [{ about: 'finding', id: rule, what, before: was?.said ?? null, after: is?.said ?? null }];
  });
}

function sayings(report: Report): ReadonlyMap<string, { readonly rule: string; readonly said: string }> {
  const said = new Map<string, { rule: string; said: string }>();
  const times = new Map<string, number>();
  const list = Array.isArray(report.findings) ? report.findings.filter(isRecord) : [];
  for (const { severity, rule, where, message } of list) {
    const key = `${rule} ${severity} ${where}`;
    const again = times.get(key) ?? 0;
    times.set(key, again + 1);
    said.set(`${key} ${again}`, { rule: String(rule), said: `${severity} at ${where}: ${message}` });
  }
  return said;
}

function eachOf(
  before: ReadonlyMap<string, Report>,
  after: ReadonlyMap<string, Report>,
  about: About,
  compare: (was: Report, is: Report, id: string) => readonly Change[],
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

function figureChange(was: unknown, is: unknown, unit = ''): NumberChange | undefined {
  const change = numberChange(was, is, FIGURE_ROUNDING);
  return unit === 'fringes' && Math.abs(change?.by ?? 1) < NO_FRINGES ? undefined : change;
}

const text = (value: unknown): string | null =>
  value === undefined || value === null ? null : String(value);

const at = (report: Report, path: string): unknown =>
  path.split('.').reduce<unknown>((value, key) => (isRecord(value) ? value[key] : undefined), report);
