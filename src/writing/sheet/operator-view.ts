/**
 * The hologram as the camera shows it; unless the bench says otherwise from the interferometer, looking along +z, so that x runs to the
 * LEFT and y up. Outlines are turned here, coordinate by coordinate; the texts are not, and stay upright. mm; 1 user unit = 1 mm.
 */
import type { Design } from '../../design/design.ts';
import { boundaryOf, polylineOf } from '../../geometry/boundary.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { footprintOf } from '../../metrology/sight/seats.ts';
import { fixed } from '../../quantity/format.ts';
import {
  type CameraOrientation,
  isMirrorImage,
  isPlain,
  toPicture,
} from '../../scenario/camera-orientation.ts';
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
export function operatorView(design: Design, orientation: CameraOrientation): Html {
  const { substrate, keepOuts } = design.scenario;
  const bounds = boundsOf(substrate.outline);
  const [corner, opposite] = [
    paper(orientation, [bounds.minX, bounds.minY]),
    paper(orientation, [bounds.maxX, bounds.maxY]),
  ];
  const [left, right] = [Math.min(corner[0], opposite[0]), Math.max(corner[0], opposite[0])];
  const [top, bottom] = [Math.min(corner[1], opposite[1]), Math.max(corner[1], opposite[1])];
  const size = Math.max(right - left, bottom - top);
  const room = ROOM * size;
  const box = [left - room, top - room, right - left + 2 * room + COLUMN * size, bottom - top + 2 * room];
  const thin = size / 600;
  const path = (outline: Outline): string => outlinePath(outline, orientation);
  const label = `The hologram ${isPlain(orientation) ? 'seen from the interferometer' : 'as the camera shows it'}`;
  return html`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${label}" viewBox="${box.map(number).join(' ')}" fill="none" stroke="${INK}" stroke-width="${number(thin)}">
<path d="${path(substrate.outline)}" stroke-width="${number(2 * thin)}"/>
${keepOuts.map(({ outline }) => html`<path d="${path(outline)}" stroke="${GREY}" stroke-dasharray="${number(8 * thin)} ${number(4 * thin)}"/>\n`)}${litCircle(design, orientation, thin)}${mainOutlines(design, orientation, thin)}${design.patches.map((patch) => html`<path d="${path(patch.outline)}" fill="${PATCH_FILL}" stroke-width="${number(1.5 * thin)}"/>\n`)}${seats(design, orientation, thin)}${viewLabels(design).map((label) => labelDrawn(label, orientation, thin))}${axes(orientation, [right + room, bottom], size, thin)}</svg>`;
}

/** The directions of x and y of the substrate frame, in the lower part of the column that begins at `x`. */
function axes(orientation: CameraOrientation, [x, bottom]: Vec2, size: number, thin: number): Html {
  const [run, head, text] = [ARROW * size, 0.02 * size, 0.035 * size];
  const ways = [paper(orientation, [1, 0]), paper(orientation, [0, 1])] as const;
  const runsLeft = ways.some(([dx]) => dx < 0);
  const runsDown = ways.some(([, dy]) => dy > 0);
  const [x0, y0] = [x + (runsLeft ? 0.8 : 0.2) * COLUMN * size, runsDown ? bottom - run : bottom];
  const arrow = ([dx, dy]: Vec2): string => {
    const [endX, endY] = [x0 + dx * run, y0 + dy * run];
    const [bx, by] = [endX - dx * head, endY - dy * head];
    const side = head / 2.5;
    return `M ${pair(x0, y0)} L ${pair(endX, endY)} M ${pair(bx - dy * side, by + dx * side)} L ${pair(endX, endY)} L ${pair(bx + dy * side, by - dx * side)}`;
  };
  const label = (words: string, [dx, dy]: Vec2): Html => {
    const [lx, ly] = [
      x0 + dx * (run + text),
      y0 + dy * run + (dy === 0 ? text / 3 : dy < 0 ? -text / 2 : 1.2 * text),
    ];
    return html`<text x="${number(lx)}" y="${number(ly)}" font-size="${number(text)}" text-anchor="middle" fill="${BLUE}" stroke="none">${words}</text>`;
  };
  return html`<path d="${ways.map(arrow).join(' ')}" stroke="${BLUE}" stroke-width="${number(1.5 * thin)}"/>
${label('+x', ways[0])}
${label('+y', ways[1])}
`;
}

/** The main pattern and, within it, what of it the light of the aperture crosses. */
function mainOutlines({ main }: Design, orientation: CameraOrientation, thin: number): HtmlValue {
  if (main === undefined) return '';
  return html`<path d="${outlinePath(main.outline, orientation)}" fill="${PATCH_FILL}" fill-rule="evenodd" stroke-width="${number(1.5 * thin)}"/>
<path d="${outlinePath(main.footprint, orientation)}" stroke="${GREY}"/>
`;
}

function litCircle({ beam }: Design, orientation: CameraOrientation, thin: number): HtmlValue {
  if (beam.radius === undefined) return '';
  const [cx, cy] = paper(orientation, beam.centre);
  return html`<circle cx="${number(cx)}" cy="${number(cy)}" r="${number(beam.radius)}" stroke="${AMBER}" stroke-dasharray="${number(2 * thin)} ${number(4 * thin)}"/>\n`;
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

function labelDrawn(
  { words, at, height, leader }: Label,
  orientation: CameraOrientation,
  thin: number,
): Html {
  const [x, y] = paper(orientation, at);
  const [start, end] = (leader ?? []).map((point) => paper(orientation, point));
  const line =
    start === undefined || end === undefined
      ? ''
      : html`<path d="M ${pair(...start)} L ${pair(...end)}" stroke-width="${number(thin)}"/><circle cx="${number(start[0])}" cy="${number(start[1])}" r="${number(1.5 * thin)}" fill="${INK}" stroke="none"/>`;
  return html`${line}<text x="${number(x)}" y="${number(y + 0.36 * height)}" font-size="${number(height)}" text-anchor="middle" fill="${INK}" stroke="none">${words}</text>\n`;
}

const seats = ({ scenario }: Design, orientation: CameraOrientation, thin: number): readonly Html[] =>
  scenario.seats.map(
    (seat) =>
      html`<path d="${outlinePath(footprintOf(seat), orientation)}" stroke="${BLUE}" stroke-width="${number(1.5 * thin)}"/>\n`,
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

/** SVG path data of an outline as the camera shows it. */
export function outlinePath(outline: Outline, orientation: CameraOrientation): string {
  const at = (point: Vec2): string => pair(...paper(orientation, point));
  // On paper a turn keeps its sense where the picture is a mirror image, y being down: counterclockwise is against SVG's sweep.
  const mirror = isMirrorImage(orientation);
  return boundaryOf(outline)
    .map((loop) => {
      const vertices = polylineOf(loop);
      const runs = vertices.map(({ point, bulge }, k) => {
        const next = vertices[(k + 1) % vertices.length]!.point;
        if (bulge === 0) return `L ${at(next)}`;
        const chord = Math.hypot(next[0] - point[0], next[1] - point[1]);
        const radius = number((chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge)));
        return `A ${radius} ${radius} 0 ${Math.abs(bulge) > 1 ? 1 : 0} ${bulge > 0 === mirror ? 1 : 0} ${at(next)}`;
      });
      return `M ${at(vertices[0]!.point)} ${runs.join(' ')} Z`;
    })
    .join(' ');
}

const number = (value: number): string => fixed(value, DIGITS);
const pair = (x: number, y: number): string => `${number(x)} ${number(y)}`;
/** To the right and down. */
function paper(orientation: CameraOrientation, point: Vec2): Vec2 {
  const [right, up] = toPicture(orientation, point);
  return [right, -up];
}
