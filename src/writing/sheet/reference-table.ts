/** The references: their design positions in the substrate frame and in the part frame, mm, and how well each will be known. */
import type { Design } from '../../design/design.ts';
import { placeFromParent } from '../../geometry/frame.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { seatCentre } from '../../metrology/sight/seats.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { fixed } from '../../quantity/format.ts';
import { micro, NONE, place, significant, withMinus, withMinusSigns } from '../page/figures.ts';
import { type Html, html, table } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';
import { listed } from './step-lists.ts';

export function referenceTables(design: Design, reported: Report): Html {
  const { references, scenario } = design;
  const places = references.map(({ id, kind, diameter, at, touches }) => [
    id,
    kindOf({ kind }).words.short,
    diameter === undefined ? NONE : place(diameter),
    ...at.map(place),
    ...placeFromParent(scenario.part.frame, at).map(place),
    touches.length === 0 ? NONE : touches.map(({ datum }) => datum).join(', '),
  ]);
  const known = references.flatMap(({ id }, k) => {
    const found = reported.references[k];
    if (found === undefined) return [];
    const { sigma_um, budget_um, unobserved } = found;
    if (!isSeen(found)) return [];
    // An axis that what is unseen leans into carries its setting by eye.
    const mark = unobserved.length === 0 ? '' : '*';
    return [
      [
        id,
        ...AXES.map((axis) => marked(micro(sigma_um[axis]), mark)),
        ...AXES.map((axis) => marked(micro(budget_um.combined[axis]), mark)),
        unobserved.length === 0 ? 'none' : unobserved.map(withMinusSigns).join('; '),
      ],
    ];
  });
  return html`<p>References are what the patches or other instruments look at, not the interferometer’s reference arm.</p>
<p class="lead">Design positions of ball centres, cube apexes and spots, mm: x, y, z in the substrate frame, then in the part frame.</p>
${table(
  ['Reference', 'Kind', 'Diameter', 'x', 'y', 'z', 'x, part', 'y, part', 'z, part', 'Touches'],
  places,
  [2, 3, 4, 5, 6, 7, 8],
)}
${known.length === 0 ? html`<p>Fringes give no position for any of them.</p>` : seenTables(known, reported)}
${seatTable(design)}`;
}

/** Whether fringes show anything of its position: not of a screen, of what a tracker measures, and of the hologram itself. */
const isSeen = ({ ellipsoid }: Report['references'][number]): boolean =>
  ellipsoid.some(({ sigma_um }) => sigma_um !== null);

function seenTables(known: readonly (readonly string[])[], { references }: Report): Html {
  const unseen = references.filter((reference) => !isSeen(reference)).map(({ id }) => id);
  return html`<p class="lead">Standard uncertainty of each position once its fringes are read, µm, along the axes of the substrate frame: as stated in the scenario, then with the
full budget. A figure with * includes the setting by eye of what the fringes do not show: see the principal axes.${unseen.length === 0 ? '' : ` Fringes give no position for ${listed(unseen)}.`}</p>
${table(
  ['Reference', 'x', 'y', 'z', 'x, full budget', 'y, full budget', 'z, full budget', 'Unobserved'],
  known,
  [1, 2, 3, 4, 5, 6],
)}
<p class="lead">Principal axes of the same uncertainty as stated in the scenario, the longest first: direction in the substrate frame, standard uncertainty in µm. What is
unseen is set by eye only.</p>
${table(
  ['Reference', 'First axis', 'µm', 'Second axis', 'µm', 'Third axis', 'µm'],
  references
    .filter(isSeen)
    .map(({ id, ellipsoid }) => [
      id,
      ...ellipsoid.flatMap(({ direction, sigma_um }) => [
        `(${direction.map((part) => withMinus(fixed(part, 3))).join(', ')})`,
        sigma_um === null ? 'unseen' : significant(sigma_um, 3),
      ]),
    ]),
  [2, 4, 6],
)}`;
}

/** The seats on the glass, for a coordinate measuring machine or a tracker: centres of their spheres, substrate frame. */
function seatTable(design: Design): Html {
  const { seats } = design.scenario;
  if (seats.length === 0) return html``;
  const rows = seats.map((seat) => [
    seat.id,
    seat.kind === 'nest' ? 'nest for an SMR' : 'ball',
    place(seat.diameter),
    ...seatCentre(design, seat).map(place),
    significant(seat.uncertainty * UM_PER_MM),
  ]);
  return html`<p class="lead">Seats on the glass, for a coordinate measuring machine or a tracker: centres of their spheres in the substrate frame, mm.</p>
${table(['Seat', 'Kind', 'Diameter', 'x', 'y', 'z', 'Uncertainty, µm'], rows, [2, 3, 4, 5, 6])}`;
}

const AXES = ['x', 'y', 'z'] as const;

const marked = (figure: string, mark: string): string => (figure === NONE ? figure : `${figure}${mark}`);
