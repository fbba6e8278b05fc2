/** The references: where they stand by design in the substrate frame and in the part frame, mm, and how well each comes to be known. */
import type { Design } from '../../design/design.ts';
import { placeFromParent } from '../../geometry/frame.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { seatCentre } from '../../metrology/sight/seats.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { Report } from '../report/report-form.ts';
import { micro, NONE, place, significant } from './figures.ts';
import { type Html, html, table } from './html.ts';

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
    return [
      [
        id,
        ...AXES.map((axis) => micro(sigma_um[axis])),
        ...AXES.map((axis) => micro(budget_um.combined[axis])),
        unobserved.length === 0 ? 'nothing' : unobserved.join('; '),
      ],
    ];
  });
  return html`<p class="lead">Ball centres, cube apexes and spots as designed, mm: x, y, z in the substrate frame, then in the part frame.</p>
${table(
  ['Reference', 'Kind', 'Diameter', 'x', 'y', 'z', 'x, part', 'y, part', 'z, part', 'Touches'],
  places,
  [2, 3, 4, 5, 6, 7, 8],
)}
<p class="lead">How well each place is known once its fringes are read, µm, standard uncertainties along the substrate’s axes: by what the scenario states, and with all
that the budget counts.</p>
${table(
  ['Reference', 'x', 'y', 'z', 'x, in all', 'y, in all', 'z, in all', 'Not seen at all'],
  known,
  [1, 2, 3, 4, 5, 6],
)}
${seatTable(design)}`;
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
${table(['Seat', 'Kind', 'Diameter', 'x', 'y', 'z', 'Known to, µm'], rows, [2, 3, 4, 5, 6])}`;
}

const AXES = ['x', 'y', 'z'] as const;
