/**
 * The hologram as the operator sees it: from the interferometer, looking along +z, so that x runs to the LEFT and y up. Outlines are
 * mirrored here, coordinate by coordinate; the texts are not, and stay upright. mm; 1 user unit = 1 mm.
 */
import type { Design } from '../../design/design.ts';
import { boundaryOf, polylineOf } from '../../geometry/boundary.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { footprintOf } from '../../metrology/sight/seats.ts';
import { fixed } from '../../quantity/format.ts';
import { type Html, type HtmlValue, html } from '../page/html.ts';
import { AMBER, BLUE, GREY, INK, PATCH_FILL } from '../palette.ts';
import { type Label, labelsOf, letterOf } from './view-labels.ts';

/** Micrometres are far below what is seen. */
const DIGITS = 3;
/** Of the substrate's size: room around it, and the length of the axes. */
const ROOM = 0.09;
const ARROW = 0.12;
/** The column at the right in which the axes stand. */
const COLUMN = 0.22;

/** Patches carry the numbers they have on the sheet, seats letters. */
export function operatorView(design: Design): Html {
  const { substrate, keepOuts } = design.scenario;
  const { minX, maxX, minY, maxY } = boundsOf(substrate.outline);
  const size = Math.max(maxX - minX, maxY - minY);
  const room = ROOM * size;
  const [left, top] = [-maxX - room, -maxY - room];
  const [width, height] = [maxX - minX + 2 * room + COLUMN * size, maxY - minY + 2 * room];
  const thin = size / 600;
  return html`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="The hologram seen from the interferometer" viewBox="${[left, top, width, height].map(number).join(' ')}" fill="none" stroke="${INK}" stroke-width="${number(thin)}">
<path d="${outlinePath(substrate.outline)}" stroke-width="${number(2 * thin)}"/>
${keepOuts.map(({ outline }) => html`<path d="${outlinePath(outline)}" stroke="${GREY}" stroke-dasharray="${number(8 * thin)} ${number(4 * thin)}"/>\n`)}${litCircle(design, thin)}${mainOutlines(design, thin)}${design.patches.map((patch) => html`<path d="${outlinePath(patch.outline)}" fill="${PATCH_FILL}" stroke-width="${number(1.5 * thin)}"/>\n`)}${seats(design, thin)}${viewLabels(design).map((label) => labelDrawn(label, thin))}${axes([-minX + room + 0.8 * COLUMN * size, -minY], size, thin)}</svg>`;
}

/** The directions of x and y of the substrate frame, beside the drawing. */
function axes([x0, y0]: Vec2, size: number, thin: number): Html {
  const [run, head, text] = [ARROW * size, 0.02 * size, 0.035 * size];
  const arrow = (dx: number, dy: number): string => {
    const [x, y] = [x0 + dx * run, y0 + dy * run];
    const [bx, by] = [x - dx * head, y - dy * head];
    const side = head / 2.5;
    return `M ${pair(x0, y0)} L ${pair(x, y)} M ${pair(bx - dy * side, by + dx * side)} L ${pair(x, y)} L ${pair(bx + dy * side, by - dx * side)}`;
  };
  const label = (words: string, x: number, y: number): Html =>
    html`<text x="${number(x)}" y="${number(y)}" font-size="${number(text)}" text-anchor="middle" fill="${BLUE}" stroke="none">${words}</text>`;
  return html`<path d="${arrow(-1, 0)} ${arrow(0, -1)}" stroke="${BLUE}" stroke-width="${number(1.5 * thin)}"/>
${label('+x', x0 - run - text, y0 + text / 3)}
${label('+y', x0, y0 - run - text / 2)}
`;
}

/** The main pattern and, within it, what of it the light of the aperture crosses. */
function mainOutlines({ main }: Design, thin: number): HtmlValue {
  if (main === undefined) return '';
  return html`<path d="${outlinePath(main.outline)}" fill="${PATCH_FILL}" fill-rule="evenodd" stroke-width="${number(1.5 * thin)}"/>
<path d="${outlinePath(main.footprint)}" stroke="${GREY}"/>
`;
}

function litCircle({ beam }: Design, thin: number): HtmlValue {
  if (beam.radius === undefined) return '';
  return html`<circle cx="${number(-beam.centre[0])}" cy="${number(-beam.centre[1])}" r="${number(beam.radius)}" stroke="${AMBER}" stroke-dasharray="${number(2 * thin)} ${number(4 * thin)}"/>\n`;
}

/** M for the main pattern, numbers of the patches as on the sheet, and letters of the seats. */
const viewLabels = ({ main, patches, scenario: { seats, substrate } }: Design): readonly Label[] =>
  labelsOf(
    [
      ...(main === undefined ? [] : [{ words: 'M', outline: main.outline, centre: main.centre }]),
      ...patches.map(({ outline, centre }, k) => ({ words: String(k + 1), outline, centre })),
      ...seats.map((seat, k) => ({ words: letterOf(k), outline: footprintOf(seat), centre: seat.at })),
    ],
    substrate.outline,
  );

function labelDrawn({ words, at: [x, y], height, leader }: Label, thin: number): Html {
  const line =
    leader === undefined
      ? ''
      : html`<path d="M ${mirrored(leader[0])} L ${mirrored(leader[1])}" stroke-width="${number(thin)}"/><circle cx="${number(-leader[0][0])}" cy="${number(-leader[0][1])}" r="${number(1.5 * thin)}" fill="${INK}" stroke="none"/>`;
  return html`${line}<text x="${number(-x)}" y="${number(-y + 0.36 * height)}" font-size="${number(height)}" text-anchor="middle" fill="${INK}" stroke="none">${words}</text>\n`;
}

const seats = ({ scenario }: Design, thin: number): readonly Html[] =>
  scenario.seats.map(
    (seat) =>
      html`<path d="${outlinePath(footprintOf(seat))}" stroke="${BLUE}" stroke-width="${number(1.5 * thin)}"/>\n`,
  );

/** Which name each number and each letter stands for. */
export function viewKey({ main, patches, scenario: { seats: named } }: Design): Html {
  const rows = [
    ...(main === undefined ? [] : [html`<li><strong>M</strong> main pattern: ${main.test.surface}</li>\n`]),
    ...patches.map(({ id }, k) => html`<li><strong>${k + 1}</strong> ${id}</li>\n`),
    ...named.map(({ id }, k) => html`<li><strong>${letterOf(k)}</strong> seat ${id}</li>\n`),
  ];
  return html`<ul class="key">
${rows}</ul>`;
}

/** SVG path data of an outline with x mirrored: (x, y) goes to (−x, −y), y being down in SVG. */
export function outlinePath(outline: Outline): string {
  return boundaryOf(outline)
    .map((loop) => {
      const vertices = polylineOf(loop);
      const runs = vertices.map(({ point, bulge }, k) => {
        const next = vertices[(k + 1) % vertices.length]!.point;
        if (bulge === 0) return `L ${mirrored(next)}`;
        const chord = Math.hypot(next[0] - point[0], next[1] - point[1]);
        const radius = number((chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge)));
        // Both coordinates change their sign, so that a turn keeps its sense on paper: counterclockwise is against SVG's sweep.
        return `A ${radius} ${radius} 0 ${Math.abs(bulge) > 1 ? 1 : 0} ${bulge > 0 ? 1 : 0} ${mirrored(next)}`;
      });
      return `M ${mirrored(vertices[0]!.point)} ${runs.join(' ')} Z`;
    })
    .join(' ');
}

const number = (value: number): string => fixed(value, DIGITS);
const pair = (x: number, y: number): string => `${number(x)} ${number(y)}`;
const mirrored = ([x, y]: Vec2): string => pair(-x, -y);
