/**
 * By how much the phase of the main pattern has changed, from two files coefficients.json: each one's table, at the places of the old samples.
 * The samples follow its footprint, so that they seldom are the same places twice. Waves at order 1; a piston is no change.
 */
import { raised } from '../../quantity/power.ts';
import { MAIN } from '../../scenario/scenario.ts';
import { isRecord, listOf } from './difference-values.ts';

/** What the tables leave, waves: less says nothing. */
const TABLED = 2e-3;

/** The largest change anywhere less the mean; undefined where a table is missing, or nothing has changed beyond what it leaves. */
export function nullMoved(before: Files, after: Files): number | undefined {
  const [old, fresh] = [before, after].map((files) => phaseIn(files.get('coefficients.json') ?? ''));
  if (old === undefined || fresh === undefined) return undefined;
  const apart = (before.get('samples.csv') ?? '')
    .split('\n')
    .filter((line) => line.startsWith(`${MAIN},`))
    .map((line) => line.split(',').slice(1, 3).map(Number) as [number, number])
    .map(([x, y]) => fresh(x, y) - old(x, y));
  const mean = apart.reduce((sum, each) => sum + each, 0) / apart.length;
  const worst = Math.max(...apart.map((each) => Math.abs(each - mean)));
  return worst > TABLED ? worst : undefined;
}

type Files = ReadonlyMap<string, string>;
type Phase = (x: number, y: number) => number;

function phaseIn(text: string): Phase | undefined {
  let written: unknown;
  try {
    written = JSON.parse(text);
  } catch {
    return undefined;
  }
  const all = isRecord(written) && Array.isArray(written.patches) ? (written.patches as unknown[]) : [];
  const own = all.find((patch) => isRecord(patch) && patch.id === MAIN);
  const form = isRecord(own) ? (own.radial ?? own.polynomial) : undefined;
  if (!isRecord(form) || !Array.isArray(form.centre_mm) || !Array.isArray(form.terms)) return undefined;
  const [x0, y0] = form.centre_mm.map(Number) as [number, number];
  const unit = Number(form.unitRadius_mm);
  const terms = listOf(form.terms as Record<string, unknown>[]).map(({ i, j, coefficient_waves: c }) => {
    return { i: Number(i), j: j === undefined ? undefined : Number(j), c: Number(c) };
  });
  return (x, y) => {
    const [u, v] = [(x - x0) / unit, (y - y0) / unit];
    const term = (i: number, j: number | undefined): number =>
      j === undefined ? raised(u * u + v * v, i) : raised(u, i) * raised(v, j);
    return terms.reduce((sum, { i, j, c }) => sum + c * term(i, j), 0);
  };
}
