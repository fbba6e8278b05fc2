/**
 * One row of a batch's summary: a scenario, or one case of a sweep, with its parameters and its worst figures. Everything in it
 * follows from the scenario alone, so that it is the same however the row came about: made, taken from the cache, or by another
 * machine.
 */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import type { Report } from '../report/report-form.ts';
import { type ReportedParameter, reportedParameter } from '../report/reported-scenario.ts';

/** fine: breaks no rule; broken: breaks a rule; unusable: the input cannot be used; fault: an internal error. */
type Outcome = 'fine' | 'broken' | 'unusable' | 'fault';

export const OUTCOME_WORDS: Readonly<Record<Outcome, string>> = {
  fine: 'fine',
  broken: 'broken',
  unusable: 'unusable',
  fault: 'ended in an internal error',
};

/** The results of a scenario, without its place in a batch. */
export interface Figures {
  readonly outcome: Outcome;
  /** Whether there is a package. */
  readonly written: boolean;
  readonly parameters: readonly ReportedParameter[];
  readonly errors: number;
  readonly warnings: number;
  /** Codes of what was found, each once. */
  readonly rules: readonly string[];
  /** The first errors in words, with their places. */
  readonly says: readonly string[];
  readonly patches: number | null;
  readonly references: number | null;
  readonly minPeriod_um: number | null;
  readonly worstResolution_um: number | null;
  /** Of the references, along the longest axis of an error ellipsoid that is seen: what is set by eye does not count. */
  readonly worstSigma_um: number | null;
  /** Of the part, of those degrees that are observed. */
  readonly partTranslation_um: number | null;
  readonly partRotation_urad: number | null;
  /** Degrees of the part that nothing observes, such as `rz`. */
  readonly unobserved: readonly string[];
  /** Combined standard uncertainty of each degree of the part by its whole budget, µm and µrad; null where unobserved. */
  readonly reached: Readonly<Record<Degree, number | null>> | null;
  /** What the scenario wishes for, µm and µrad; null where it wishes for nothing. */
  readonly wanted: Readonly<Record<Degree, number | null>> | null;
  /** The substrate's least x and y, largest x and y, mm, for the picture. */
  readonly extent_mm: readonly [number, number, number, number] | null;
}

export interface BatchRow extends Figures {
  /** Its place in the whole batch, from 1. */
  readonly index: number;
  /** The package's folder under `--out`. */
  readonly name: string;
  /** The scenario as it was given. */
  readonly file: string;
  /** Of a sweep: the case's number or name; otherwise null. */
  readonly case: string | null;
}

/** Errors told in words for one row; all are counted, and a `check` of the scenario tells all. */
const MOST_SAYINGS = 20;

const count = (findings: readonly Finding[], severity: Finding['severity']): number =>
  findings.filter((finding) => finding.severity === severity).length;

/** Of an input that cannot be used, or of a fault. */
export function figuresWithout(outcome: Outcome, findings: readonly Finding[]): Figures {
  return {
    outcome,
    written: false,
    parameters: [],
    ...countsOf(findings),
    patches: null,
    references: null,
    minPeriod_um: null,
    worstResolution_um: null,
    worstSigma_um: null,
    partTranslation_um: null,
    partRotation_urad: null,
    unobserved: [],
    reached: null,
    wanted: null,
    extent_mm: null,
  };
}

/** Of a design, from its report. */
export function figuresOf(
  { scenario }: Design,
  { patches, references, part }: Report,
  findings: readonly Finding[],
  written: boolean,
): Figures {
  const worst = (values: readonly (number | null)[]): number | null => {
    const known = values.filter((value) => value !== null && Number.isFinite(value)) as number[];
    return known.length === 0 ? null : known.reduce((a, b) => Math.max(a, b));
  };
  const least = patches.map(({ period_um }) => period_um.min).reduce((a, b) => Math.min(a, b), Infinity);
  const { sigma, budget } = part;
  const { minX, minY, maxX, maxY } = boundsOf(scenario.substrate.outline);
  const wish = (degree: Degree): number | null => {
    const value = scenario.wanted[degree];
    return value === undefined ? null : value * (degree.startsWith('r') ? URAD_PER_RAD : UM_PER_MM);
  };
  return {
    outcome: count(findings, 'error') === 0 ? 'fine' : 'broken',
    written,
    parameters: scenario.parameters.map(reportedParameter),
    ...countsOf(findings),
    patches: patches.length,
    references: references.length,
    minPeriod_um: Number.isFinite(least) ? least : null,
    worstResolution_um: worst(patches.map(({ resolution_um }) => resolution_um)),
    worstSigma_um: worst(references.flatMap(({ ellipsoid }) => ellipsoid.map((axis) => axis.sigma_um))),
    partTranslation_um: worst([sigma.x, sigma.y, sigma.z]),
    partRotation_urad: worst([sigma.rx, sigma.ry, sigma.rz]),
    unobserved: part.unobserved,
    reached: budget.combined,
    wanted: Object.fromEntries(DEGREES.map((degree) => [degree, wish(degree)])) as Record<
      Degree,
      number | null
    >,
    extent_mm: [minX, minY, maxX, maxY],
  };
}

const countsOf = (findings: readonly Finding[]): Pick<Figures, 'errors' | 'warnings' | 'rules' | 'says'> => ({
  errors: count(findings, 'error'),
  warnings: count(findings, 'warning'),
  rules: [...new Set(findings.map(({ rule }) => rule))],
  says: findings
    .filter(({ severity }) => severity === 'error')
    .slice(0, MOST_SAYINGS)
    .map(({ rule, where, message, hint, place }) => {
      const at = place === undefined ? where : `${place.file}:${place.line}:${place.column}`;
      return `${at}: ${message}${hint === undefined ? '' : `; ${hint}`} [${rule}]`;
    }),
});

/** Digits of a figure in a table. */
const DIGITS = 9;
/** A figure as a table has it: plain decimals where they are short, an exponent where they are not. */
export const figureText = (value: number, digits = DIGITS): string =>
  String(Number(value.toPrecision(digits)) + 0);
