/**
 * What the program has to say about an input or a design: one shape for both, so that nothing is lost on the way
 * from a rule or a reader to the terminal, the report and the exit code.
 */
export type Severity = 'error' | 'warning' | 'note';

/** Where in the scenario a finding belongs: keys and list positions from the root, e.g. ['patches', 2, 'outline']. */
export type Path = readonly (string | number)[];

/** A range of the file's text; lines and columns count from 1, `end` is past the last character. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  /** The line itself, without its end, where the file's text is not kept. */
  readonly lineText?: string;
}

export interface Finding {
  readonly severity: Severity;
  /** The code of a layout rule such as `patch-overlap` (rules/all-rules.ts), or of an input error (codes.ts). */
  readonly rule: string;
  /** What it is about, in the scenario's own names: ids such as `north-1`, or a path such as `light.wavelength`. */
  readonly where: string;
  /** What is wrong, with the value found and the value allowed. */
  readonly message: string;
  /** What would be right. */
  readonly hint?: string;
  /** The figure found and the least or most allowed, both in `unit`. */
  readonly value?: number;
  readonly limit?: number;
  readonly unit?: string;
  /** The finding, listed before this one, that explains it. */
  readonly follows?: { readonly rule: string; readonly where: string };
  readonly path?: Path;
  readonly place?: Place;
  /** Ids of the patches that keep or break the rule by where they are: other things may have the same ids. */
  readonly patches?: readonly string[];
}

export const errorFinding = (
  rule: Finding['rule'],
  where: string,
  message: string,
  hint?: string,
  place?: Place,
): Finding => ({
  severity: 'error',
  rule,
  where,
  message,
  ...(hint === undefined ? {} : { hint }),
  ...(place === undefined ? {} : { place }),
});

/** With its place in the text added where it has a path only; `places` says where a path stands. */
export function withPlace(finding: Finding, places: (path: Path) => Place | undefined): Finding {
  if (finding.place !== undefined || finding.path === undefined) return finding;
  const place = places(finding.path);
  return place === undefined ? finding : { ...finding, place };
}

/** `patches[2].outline`, list positions from 0; `whole` where the path is empty. */
export function pathText(path: Path, whole: string): string {
  const text = path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${step}`)).join('');
  return text === '' ? whole : text.replace(/^\./, '');
}

/** In the order of the text; those without a place first. */
export const byPlace = (findings: readonly Finding[]): readonly Finding[] =>
  findings.toSorted(
    ({ place: a }, { place: b }) => (a?.line ?? 0) - (b?.line ?? 0) || (a?.column ?? 0) - (b?.column ?? 0),
  );
