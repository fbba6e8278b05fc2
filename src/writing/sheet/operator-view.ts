/**
 * The hologram as the operator sees it: from the interferometer, looking along +z, so that x runs to the LEFT and y up. Outlines are
 * mirrored here, coordinate by coordinate; the texts are not, and stay upright. mm; 1 user unit = 1 mm.
 */
import type { Design } from '../../design/design.ts';
import { boundaryOf, polylineOf } from '../../geometry/boundary.ts';
import { boundsOf, narrowestWidth } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { fixed } from '../../quantity/format.ts';
import { type Html, type HtmlValue, html } from '../page/html.ts';
import { AMBER, BLUE, GREY, INK, PATCH_FILL } from '../palette.ts';

/** Micrometres are far below what is seen. */
const DIGITS = 3;
/** Of the substrate's size: room around it, and the length of the axes. */
const ROOM = 0.09;
const ARROW = 0.12;
/** The column at the right in which the axes stand. */
const COLUMN = 0.22;

/** Patches carry the numbers they have on the sheet. */
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
${keepOuts.map(({ outline }) => html`<path d="${outlinePath(outline)}" stroke="${GREY}" stroke-dasharray="${number(8 * thin)} ${number(4 * thin)}"/>\n`)}${litCircle(design, thin)}${mainOutlines(design, size, thin)}${design.patches.map((patch, k) => html`<path d="${outlinePath(patch.outline)}" fill="${PATCH_FILL}" stroke-width="${number(1.5 * thin)}"/>${numberIn(patch.outline, patch.centre, String(k + 1))}\n`)}${axes([-minX + room + 0.8 * COLUMN * size, -minY], size, thin)}</svg>`;
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
function mainOutlines({ main }: Design, size: number, thin: number): HtmlValue {
  if (main === undefined) return '';
  return html`<path d="${outlinePath(main.outline)}" fill="${PATCH_FILL}" fill-rule="evenodd" stroke-width="${number(1.5 * thin)}"/>
<path d="${outlinePath(main.footprint)}" stroke="${GREY}"/>
${numberIn(main.outline, main.centre, 'M', LARGEST_LETTER * size)}
`;
}

/** Of the substrate's size: the main pattern's letter. */
const LARGEST_LETTER = 0.08;

function litCircle({ beam }: Design, thin: number): HtmlValue {
  if (beam.radius === undefined) return '';
  return html`<circle cx="${number(-beam.centre[0])}" cy="${number(-beam.centre[1])}" r="${number(beam.radius)}" stroke="${AMBER}" stroke-dasharray="${number(2 * thin)} ${number(4 * thin)}"/>\n`;
}

/** The number in the middle of a patch's area, as large as the patch has room for. */
function numberIn(outline: Outline, centre: Vec2, words: string, most = Infinity): Html {
  const [x, y] = middleOf(outline, centre);
  const size = Math.min(most, (0.75 * narrowestWidth(outline)) / Math.max(1, 0.62 * words.length));
  return html`<text x="${number(-x)}" y="${number(-y + 0.36 * size)}" font-size="${number(size)}" text-anchor="middle" fill="${INK}" stroke="none">${words}</text>`;
}

/** A place inside the outline with room around it. */
function middleOf(outline: Outline, centre: Vec2): Vec2 {
  const at = (radius: number, angle: number, [x, y]: Vec2): Vec2 => [
    x + radius * Math.cos(angle),
    y + radius * Math.sin(angle),
  ];
  switch (outline.shape) {
    case 'ring':
      return at((outline.inner + outline.outer) / 2, RING_NUMBER_AT, outline.centre);
    case 'sector':
      return at((outline.inner + outline.outer) / 2, (outline.from + outline.to) / 2, outline.centre);
    case 'polygon':
      return centre;
    default:
      return outline.centre;
  }
}

/** On a ring, where patches seldom stand: on the diagonal. */
const RING_NUMBER_AT = Math.PI / 4;

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
