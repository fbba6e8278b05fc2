/**
 * The closed form of a phase read as a fabricator would read it: from the printed words alone (the head's wavelength and glass, the
 * formula, E_in, E_out and B), with nothing that the program knows besides. mm, waves. Shares no code with src/.
 */
import { type Place, stationary } from './fermat.ts';
import { formula, type Names, numberOf, type Value } from './formula.ts';
import type { Field } from './scene-phase.ts';

export interface PrintedForm {
  readonly formula: string;
  readonly incident: string;
  readonly leaving: string;
  readonly bias: string;
  readonly order: number;
  readonly centre: readonly [number, number];
}

type Path = (at: Place) => number;

/** Φ by the words of one patch and those at the head of the file. */
export function phaseAsPrinted(head: string, printed: PrintedForm): Field {
  const names = headNames(head);
  const [incident, leaving] = [
    pathOf(printed.incident, 'E_in', names),
    pathOf(printed.leaving, 'E_out', names, pathOf(printed.incident, 'E_in', names)),
  ];
  const bias = biasOf(printed.bias);
  const match =
    /^Phi\(P\) = (\[.*\] \/ \(.*\)) - the same at (?:the patch centre|P = \((.*)\) mm) \+ B\(P\)$/.exec(
      printed.formula,
    );
  if (match === null) throw new Error(`no formula of a phase: ${printed.formula}`);
  const read = formula(match[1]!.replaceAll('E_out(P)', 'E_out').replaceAll('E_in(P)', 'E_in'));
  const raw: Field = (x, y) => {
    const at: Place = [x, y, 0];
    return read({ ...names, m: printed.order, E_in: incident(at), E_out: leaving(at) }) as number;
  };
  const [zeroX, zeroY] = match[2]?.split(', ').map(Number) ?? printed.centre;
  const atZero = raw(zeroX!, zeroY!);
  return (x, y) => raw(x, y) - atZero + bias(x, y);
}

/** What the head says once for all patches: lambda in mm, n. */
function headNames(head: string): Names {
  const wavelength = /Wavelength in air: ([\d.]+) nm/.exec(head);
  if (wavelength === null) throw new Error('the head states no wavelength');
  const index = /index ([\d.]+) against air/.exec(head);
  return { lambda: Number(wavelength[1]) * 1e-6, ...(index === null ? {} : { n: Number(index[1]) }) };
}

/** `E_in = …, F = (0, 0, -500) mm` as a function of P; `incident` for light that goes back on itself. */
function pathOf(text: string, name: 'E_in' | 'E_out', head: Names, incident?: Path): Path {
  const [start, rest] = [`${name} = `, text.slice(name.length + 3)];
  if (!text.startsWith(start)) throw new Error(`expected ${start} at the start of: ${text}`);
  if (rest === '-E_in (back on itself)' && incident !== undefined) return (at) => -incident(at);
  const { body, given } = definitions(rest);
  const names = { ...head, ...given };
  const through = /^(-\[)?stationary over Q in the (?:entry|exit) face z = (-?[\d.]+) mm of (.*?)(\])?$/.exec(
    body,
  );
  if (through === null) return withAxis(body, names, 'P');
  if ((through[1] === undefined) !== (through[4] === undefined))
    throw new Error(`a bracket is missing: ${body}`);
  const [sign, z] = [through[1] === undefined ? 1 : -1, Number(through[2])];
  return (at) => {
    const path = withAxis(through[3]!, { ...names, P: at }, 'Q');
    return sign * stationary([at[0], at[1]], (x, y) => path([x, y, z])).path;
  };
}

/** The formula as a function of the point `letter`, with rho and zeta of it where the words give an axis. */
function withAxis(body: string, names: Names, letter: 'P' | 'Q'): Path {
  const read = formula(body);
  return (at) => read({ ...names, ...axial(names, at), [letter]: at }) as number;
}

function axial({ axis, O }: Names, at: Place): Names {
  if (axis === undefined || O === undefined) return {};
  const [u, from] = [axis as readonly number[], (O as readonly number[]).map((entry, k) => at[k]! - entry)];
  const zeta = from.reduce((sum, entry, k) => sum + entry * u[k]!, 0);
  return { zeta, rho: Math.hypot(...from.map((entry, k) => entry - zeta * u[k]!)) };
}

/** The body of a formula and what is said of its letters after it: vectors, lengths in mm, angles in deg, an axis. */
function definitions(text: string): { readonly body: string; readonly given: Names } {
  const parts = text.split(/, (?=[A-Za-z]+ = |rho and zeta of )/);
  const given: Record<string, Value> = {};
  for (const part of parts.slice(1)) {
    const axis = /^rho and zeta of [PQ] across and along the axis (\(.*?\)) from (O) = (\(.*?\)) mm$/.exec(
      part,
    );
    const [, name, value, unit] =
      axis === null ? (/^([A-Za-z]+) = (.*?)(?: (mm|deg))?$/.exec(part) ?? []) : ['', axis[2], axis[3], 'mm'];
    if (name === undefined || value === undefined) throw new Error(`cannot read what "${part}" says`);
    if (axis !== null) given.axis = formula(axis[1]!)({});
    given[name] = unit === 'deg' ? (numberOf(value) * Math.PI) / 180 : formula(value)({});
  }
  return { body: parts[0]!, given };
}

/** `B = (0.5 waves / 5 mm) |w|, w = 1 (x - 0) + 0 (y - 60) mm`, or `B = 0`. */
function biasOf(text: string): Field {
  if (text === 'B = 0') return () => 0;
  const match = /^B = \((.*) waves \/ (.*) mm\) (\|w\||w), w = (.*) mm$/.exec(text);
  if (match === null) throw new Error(`no bias: ${text}`);
  const [, waves, length, run, w] = match as unknown as [string, string, string, string, string];
  const [slope, body, fold] = [numberOf(`${waves} / ${length}`), formula(w), formula(run)];
  return (x, y) => slope * (fold({ w: body({ x, y }) }) as number);
}
