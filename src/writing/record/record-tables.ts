/** The tables of an alignment's record, from record.json alone: µm, µrad, nm; ± one standard uncertainty unless it says otherwise. */
import { fixed } from '../../quantity/format.ts';
import { inertCell } from '../csv.ts';
import { significant, withMinus } from '../page/figures.ts';
import { facts, type Html, html, table } from '../page/html.ts';
import { rounded, signed } from '../steering/bench-figures.ts';
import type { AlignmentRecord, RecordedChange, RecordedRound, SetAside, Six } from './record-form.ts';

export const DEGREES = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;
type Degree = (typeof DEGREES)[number];
export const unitOf = (degree: Degree): string => (degree.startsWith('r') ? 'µrad' : 'µm');
const UNOBSERVED = 'unobserved';

export const ROUND_TITLES = {
  before: 'before clamping',
  clamped: 'after clamping',
  reseated: 'after reseating',
} as const;

/** A value to the digits of its uncertainty. */
const figure = (values: Six, sigma: Six, degree: Degree): string => {
  const [value, u] = [values[degree], sigma[degree]];
  return value === null || u === null ? UNOBSERVED : signed(value, u);
};

const plain = (value: number | null): string => (value === null ? '–' : rounded(value));

/** The part's place in the round that counts. */
export function placeTable({ place }: RecordedRound): Html {
  if (place === null)
    return html`<p>The readings are of references that do not move with the part: they say nothing of its place.</p>`;
  const { displacement, sigma, combined, expanded, coverageFactor, origin_mm, freeMotions, consistency } =
    place;
  const rows = DEGREES.map((degree) => [
    `${degree}, ${unitOf(degree)}`,
    figure(displacement, combined, degree),
    plain(sigma[degree]),
    plain(combined[degree]),
    plain(expanded[degree]),
  ]);
  const { probability, degreesOfFreedom, contradictory } = consistency;
  const agreement =
    degreesOfFreedom === 0
      ? 'No reading is checked by another: the readings could not contradict each other.'
      : contradictory
        ? `The readings contradict each other (probability ${probability.toPrecision(1)}): do not rely on this place.`
        : `The readings agree with each other: χ² ${consistency.chiSquared.toPrecision(3)} with ${degreesOfFreedom} degree${degreesOfFreedom === 1 ? '' : 's'} of freedom, probability ${probability.toPrecision(2)}.`;
  return html`${table(
    ['', 'Displacement', 'u, readings alone', 'u, combined', `U, k = ${coverageFactor}`],
    rows,
    [1, 2, 3, 4],
  )}
<p>Displacement of the part from its design place, along the axes of the part frame and about its origin, which is found at
(${origin_mm.map((value) => withMinus(fixed(value, 4))).join(', ')}) mm in the substrate frame. u: standard uncertainty by JCGM 100; combined: with every term of the
design’s budget; U: expanded uncertainty, about 95 %. The covariance of the six is in record.json.</p>
<p>${agreement}${freeMotions.length === 0 ? '' : ` Unobserved, free ${freeMotions.join('; ')}.`}</p>`;
}

/** What clamping and reseating changed, side by side. */
export function changeTable(changes: readonly RecordedChange[]): Html {
  const columns = changes.flatMap(({ by, change, sigma, budget }) => [
    {
      title: `Change by ${by}`,
      cell: (degree: Degree): string => figure(change, sigma, degree),
    },
    { title: 'u, nothing moved', cell: (degree: Degree): string => plain(sigma[degree]) },
    ...(budget === null
      ? []
      : [{ title: 'u, with reseating', cell: (degree: Degree): string => plain(budget.sigma[degree]) }]),
  ]);
  const rows = DEGREES.map((degree) => [
    `${degree}, ${unitOf(degree)}`,
    ...columns.map(({ cell }) => cell(degree)),
  ]);
  return html`${table(
    ['', ...columns.map(({ title }) => title)],
    rows,
    columns.map((_, k) => k + 1),
  )}
${changes.map((change) => html`<p>${changeVerdict(change)}</p>\n`)}`;
}

function changeVerdict({ by, probability, significant, budget }: RecordedChange): Html {
  const By = by === 'clamping' ? 'Clamping' : 'Reseating';
  const verdict = significant
    ? html`<strong>${By}, significant:</strong> a change this large appears without any movement with probability ${small(probability)}.`
    : html`${By}, not significant: a change this large appears without any movement with probability ${small(probability)}.`;
  const allowed =
    budget === null
      ? ''
      : budget.exceeded
        ? html` <strong>More than the budget allows</strong> for nests, apices and balls (probability ${small(budget.probability)}): check the seats.`
        : html` Within what the budget allows for nests, apices and balls (probability ${small(budget.probability)}).`;
  return html`${verdict}${allowed}`;
}

const small = (probability: number): string =>
  probability < 0.001 ? 'under 0.001' : probability.toPrecision(2);

/** What was read, a row for each patch or measurement, a column for each round. */
export function readingsTable({ rounds, numbers }: AlignmentRecord): Html {
  const columns = rounds.map(({ given }) => {
    const list = Array.isArray(given.readings) ? (given.readings as readonly Record<string, unknown>[]) : [];
    return new Map(list.map((entry) => [String(entry.patch ?? entry.measurement), entry]));
  });
  const names = [...new Set(columns.flatMap((column) => [...column.keys()]))];
  const aside = rounds.map(({ setAside = [] }) => new Set(setAside.map(({ reading }) => reading)));
  const words = (name: string, k: number): string =>
    `${readingWords(columns[k]!.get(name))}${aside[k]!.has(name) ? ' (set aside)' : ''}`;
  const cells = (name: string): string[] => rounds.map((_, k) => words(name, k));
  const titles = rounds.map(({ round }) => ROUND_TITLES[round]);
  return numbers === undefined
    ? table(
        ['Read', ...titles],
        names.map((name) => [name, ...cells(name)]),
      )
    : table(
        ['No.', 'Read', ...titles],
        names.map((name) => [String(numbers[name] ?? '–'), name, ...cells(name)]),
        [0],
      );
}

/** How each reason to set a reading aside is told. */
const ASIDE: Readonly<Record<string, string>> = {
  'beyond range': 'beyond the capture range',
  suspect: 'contradicts the others',
  contradicts: 'contradict each other',
};

/** `3 west-rim (contradicts the others)`, those of one reason together. */
export function asideWords(
  setAside: readonly SetAside[],
  numbers: Readonly<Record<string, number>> = {},
): string {
  const reasons = [...new Set(setAside.map(({ why }) => why))];
  return reasons
    .map((reason) => {
      const names = setAside
        .filter(({ why }) => why === reason)
        .map(({ reading }) => numbered(reading, numbers));
      return `${names.join(', ')} (${reason === null ? 'reason not known' : (ASIDE[reason] ?? reason)})`;
    })
    .join('; ');
}

/** A patch by its number on the sheet and its id. */
export const numbered = (id: string, numbers: Readonly<Record<string, number>> = {}): string =>
  Object.hasOwn(numbers, id) ? `${numbers[id]} ${id}` : id;

/** `1.3 fringes`; `0.4, −1.2 fringes, power 0.3`; `−12 µm`. */
function readingWords(entry: Readonly<Record<string, unknown>> | undefined): string {
  if (entry === undefined) return 'not read';
  const { patch: _, measurement: __, deviation_um, fringes, ...more } = entry;
  const words = (value: unknown): string =>
    Array.isArray(value)
      ? value.map(words).join(', ')
      : typeof value === 'number'
        ? withMinus(String(value))
        : typeof value === 'object' && value !== null
          ? Object.entries(value)
              .map(([key, part]) => `${key} ${words(part)}`)
              .join(', ')
          : String(value);
  return [
    ...(deviation_um === undefined ? [] : [`${words(deviation_um)} µm`]),
    ...(fringes === undefined ? [] : [`${words(fringes)} fringes`]),
    ...Object.entries(more).map(([key, value]) => inertCell(`${key} ${words(value)}`)),
  ].join('; ');
}

/** References in the round that counts: those on mounts of their own have no other figure. */
export function referenceTable({ references }: RecordedRound): Html {
  const rows = references.map(({ id, displacement_um, combined_um }) => [
    id,
    ...(['x', 'y', 'z'] as const).flatMap((axis) => {
      const u = combined_um[axis];
      if (u === null) return [UNOBSERVED, '–'];
      return [displacement_um === null ? 'sign unknown' : signed(displacement_um[axis], u), rounded(u)];
    }),
  ]);
  return table(['Reference', 'x, µm', 'u(x)', 'y, µm', 'u(y)', 'z, µm', 'u(z)'], rows, [1, 2, 3, 4, 5, 6]);
}

export function figureFacts({ figure: left }: AlignmentRecord): Html {
  if (left === null)
    return html`<p>The scenario names no surface under test, or the part was not read: no figure is given.</p>`;
  const { uncertainty_nm, uncertaintySecondOrder_nm, together_nm, settingByEye_nm } = left;
  const nm = (value: number): string => `${significant(value, 2)} nm rms`;
  const unknown = 'not known: most of it comes from motions that no reading shows';
  const known = (name: string, value: number | null): readonly (readonly [string, string])[] =>
    value === null ? [] : [[name, nm(value)]];
  return html`${facts([
    ['From the place found', nm(left.place_nm)],
    ['… second order', nm(left.placeSecondOrder_nm)],
    ['From its uncertainty', uncertainty_nm === null ? unknown : nm(uncertainty_nm)],
    ...known('… second order', uncertaintySecondOrder_nm),
    ...known('Together', together_nm),
  ])}
<p>Error that misalignment is expected to leave in the measured figure after the evaluation has removed its terms. The second order counts while the part is
not set to its own null.${uncertainty_nm === null ? ` With the unobserved motions set by eye the uncertainty leaves ${nm(settingByEye_nm)}.` : ''}</p>`;
}

export function airFacts({ air: { temperature_C, pressure_Pa, effect } }: AlignmentRecord): Html {
  const given = (value: number | null, unit: string): string =>
    value === null ? 'not recorded' : `${withMinus(String(value))} ${unit}`;
  const words =
    effect === null
      ? temperature_C === null && pressure_Pa === null
        ? ''
        : html`<p>The scenario gives its wavelength in air, without the air’s temperature and pressure: what the air does to the readings is not worked out.</p>`
      : html`<p>The design holds for ${withMinus(String(effect.designed.temperature_C))} °C and ${effect.designed.pressure_Pa / 100} hPa. The air as measured changes the wavelength by ${signed(effect.wavelength_ppm, 0.1)} ppm.
The last readings show this as an apparent displacement of the part, ${DEGREES.filter(
          (degree) => effect.apparent[degree] !== null,
        )
          .map((degree) => `${degree} ${signed(effect.apparent[degree]!, 0.1)} ${unitOf(degree)}`)
          .join(
            ', ',
          )}. It is included in the displacement above, which is not corrected for it. The expansion of hologram and part is not counted.</p>`;
  return html`${facts([
    ['Temperature of the air', given(temperature_C, '°C')],
    ['Pressure of the air', given(pressure_Pa === null ? null : pressure_Pa / 100, 'hPa')],
  ])}${words}`;
}
