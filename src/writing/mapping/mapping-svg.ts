/**
 * `mapping.svg`: a grid of the surface under test, its aperture and the marks on it as the camera sees them, from the interferometer: x of
 * the pattern to the left, y up. Axes in camera pixels; the surface's own x and y stand at the ends of its lines. Units of the drawing px.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { cameraPlace, distortionOf, mappedMarks, roundStep } from '../../metrology/null/mapping.ts';
import { trimmed } from '../../quantity/format.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { drawable } from '../drawing/lettering.ts';
import { withMinus } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import { AMBER, BLUE, GREY, INK, QUIET_INK, RED } from '../palette.ts';
import { departureWords } from './mapping-words.ts';
import { type GridLine, type SurfaceGrid, surfaceGrid } from './surface-grid.ts';

/** Of the square window, and of what stands around it. */
const SIDE = 520;
const [LEFT, TOP, RIGHT, FOOT] = [78, 132, 40, 150];
const WIDTH = LEFT + SIDE + RIGHT;
const HEIGHT = TOP + SIDE + FOOT;
/** Of what is shown: room for the labels. */
const ROOM = 0.16;
const LINE = 16;
const LONGEST_TITLE = 56;

/** Camera pixels to the drawing. */
interface View {
  readonly column: number;
  readonly row: number;
  readonly scale: number;
}

export function mappingSvg(
  design: Design,
  main: MainPattern,
  { draft }: { readonly draft: boolean },
): string {
  const grid = surfaceGrid(design, main);
  const view = viewOf(grid);
  const { pixelsAcrossBeam } = design.scenario.interferometer;
  const title = `Mapping of surface ${main.test.surface}: ${drawable(design.scenario.title, LONGEST_TITLE) || 'the null test'}`;
  const marks = mappedMarks(design, main);
  const head = [
    'SEEN FROM THE INTERFEROMETER, as the camera sees it: x of the pattern to the left, y up',
    `Axes: pixels of a camera frame of ${pixelsAcrossBeam} × ${pixelsAcrossBeam} that the beam spans`,
    `Lines: x and y of surface ${main.test.surface} every ${trimmed(grid.step, 6)} mm, as its aperture counts them`,
    departureWords(distortionOf(main)),
  ];
  return html`<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" aria-labelledby="title desc" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="Arial, Helvetica, Liberation Sans, DejaVu Sans, sans-serif" font-size="11">
<title id="title">${title}</title>
<desc id="desc">${draft ? `${DRAFT_WORDS}. ` : ''}${head.join('. ')}.</desc>
<style>.strong{font-weight:bold;font-size:13px}.axis{fill:none;stroke:${INK}}.tick{stroke:${INK}}.x{fill:none;stroke:${BLUE}}.y{fill:none;stroke:${GREY};stroke-dasharray:5 2}.zero{stroke-width:2.2}.xs{fill:${BLUE}}.ys{fill:${QUIET_INK}}.edge{fill:none;stroke:${INK};stroke-width:1.6}.beam{fill:none;stroke:${AMBER};stroke-dasharray:3 4;stroke-width:1.4}.mark{fill:none;stroke:${RED};stroke-width:2}.id{fill:${RED};font-weight:bold}.draft{fill:${RED};font-weight:bold}.halo{paint-order:stroke;stroke:#fff;stroke-width:3px}</style>
<defs><clipPath id="window"><rect x="${LEFT}" y="${TOP}" width="${SIDE}" height="${SIDE}"/></clipPath></defs>
<rect width="100%" height="100%" fill="#fff"/>
${draft ? html`<text class="draft" font-size="15" x="${LEFT}" y="18">${DRAFT_WORDS}</text>\n` : ''}<text class="strong" x="${LEFT}" y="38">${title}</text>
${head.map((words, k) => html`<text x="${LEFT}" y="${58 + LINE * k}">${words}</text>\n`)}<g clip-path="url(#window)">
${beamCircle(design, view)}${grid.lines.map((line) => lineOf(line, view))}${grid.edges.map((edge) => html`<path class="edge" d="${pathOf(edge, view)}Z"/>\n`)}${marks.map(({ point }) => crossAt(at(point.camera, view)))}</g>
${grid.lines.map((line) => labelOf(line, view))}${marks.map(({ id, point }) => nameOf(id, at(point.camera, view)))}${axes(view)}${foot(main, marks.length)}${draft ? draftMark() : ''}</svg>
`.text;
}

function viewOf({ edges }: SurfaceGrid): View {
  const columns = edges.flat().map(([column]) => column);
  const rows = edges.flat().map(([, row]) => row);
  const [left, right, top, bottom] = [
    Math.min(...columns),
    Math.max(...columns),
    Math.min(...rows),
    Math.max(...rows),
  ];
  const span = Math.max(right - left, bottom - top) * (1 + 2 * ROOM);
  return { column: (left + right - span) / 2, row: (top + bottom - span) / 2, scale: SIDE / span };
}

const at = ([column, row]: Vec2, view: View): Vec2 => [
  LEFT + (column - view.column) * view.scale,
  TOP + (row - view.row) * view.scale,
];
const number = (value: number): string => trimmed(value, 2);
const pathOf = (places: readonly Vec2[], view: View): string =>
  places.map((place, k) => `${k === 0 ? 'M' : 'L'}${at(place, view).map(number).join(' ')}`).join('');

/** A line along x has a fixed y, and the other way round: its class is the coordinate that it fixes. */
const fixedBy = ({ along }: GridLine): 'x' | 'y' => (along === 'x' ? 'y' : 'x');

const lineOf = (line: GridLine, view: View): Html =>
  html`<path class="${fixedBy(line)}${line.value === 0 ? ' zero' : ''}" d="${pathOf(line.places, view)}"/>\n`;

/** Beyond the end of the line that has the larger coordinate: onward, and a little outward from the middle of the window. */
function labelOf(line: GridLine, view: View): Html {
  const [end, before] = [at(line.places.at(-1)!, view), at(line.places.at(-6)!, view)];
  const onward = unit([end[0] - before[0], end[1] - before[1]]);
  const outward = unit([end[0] - LEFT - SIDE / 2, end[1] - TOP - SIDE / 2]);
  const [dx, dy] = unit([3 * onward[0] + outward[0], 3 * onward[1] + outward[1]]);
  const name = fixedBy(line);
  return html`<text class="${name}s halo" text-anchor="middle" x="${number(end[0] + 26 * dx)}" y="${number(end[1] + 16 * dy + 4)}">${name} ${withMinus(trimmed(line.value, 6))}</text>\n`;
}

const unit = ([x, y]: Vec2): Vec2 => {
  const length = Math.hypot(x, y) || 1;
  return [x / length, y / length];
};

const crossAt = ([x, y]: Vec2): Html =>
  html`<path class="mark" d="M${number(x - 7)} ${number(y)}H${number(x + 7)}M${number(x)} ${number(y - 7)}V${number(y + 7)}"/>\n`;

const nameOf = (id: string, [x, y]: Vec2): Html =>
  html`<text class="id halo" x="${number(x + 9)}" y="${number(y - 6)}">${id}</text>\n`;

function beamCircle(design: Design, view: View): Html | string {
  const { centre, radius } = design.beam;
  if (radius === undefined) return '';
  const [x, y] = at(cameraPlace(design, centre), view);
  const r = (design.scenario.interferometer.pixelsAcrossBeam / 2) * view.scale;
  return html`<circle class="beam" cx="${number(x)}" cy="${number(y)}" r="${number(r)}"/>\n`;
}

function axes(view: View): Html {
  const span = SIDE / view.scale;
  const step = roundStep(span / 5);
  const ticks = (from: number): readonly number[] => {
    const first = Math.ceil(from / step);
    return Array.from({ length: Math.floor((from + span) / step) - first + 1 }, (_, k) => (first + k) * step);
  };
  const bottom = TOP + SIDE;
  return html`<rect class="axis" x="${LEFT}" y="${TOP}" width="${SIDE}" height="${SIDE}"/>
${ticks(view.column).map((column) => {
  const [x] = at([column, 0], view);
  return html`<path class="tick" d="M${number(x)} ${bottom}v5"/><text text-anchor="middle" x="${number(x)}" y="${bottom + 18}">${withMinus(trimmed(column, 6))}</text>\n`;
})}${ticks(view.row).map((row) => {
  const [, y] = at([0, row], view);
  return html`<path class="tick" d="M${LEFT} ${number(y)}h-5"/><text text-anchor="end" x="${LEFT - 8}" y="${number(y + 4)}">${withMinus(trimmed(row, 6))}</text>\n`;
})}<text text-anchor="middle" x="${LEFT + SIDE / 2}" y="${bottom + 36}">camera column, px</text>
<text text-anchor="middle" x="24" y="${TOP + SIDE / 2}" transform="rotate(-90 24 ${TOP + SIDE / 2})">camera row, px (from the top)</text>
`;
}

/** What the lines mean, and the directions of the pattern's x and y. */
function foot({ test }: MainPattern, marks: number): Html {
  const top = TOP + SIDE + 62;
  const entries: readonly (readonly [mark: string, words: string])[] = [
    ['x', `x of surface ${test.surface} is constant, mm`],
    ['y', `y of surface ${test.surface} is constant, mm`],
    ['edge', 'edge of the aperture'],
    ['beam', 'edge of the beam, where it is in view'],
    ...(marks === 0 ? [] : [['mark', 'mark on the part'] as const]),
  ];
  const [x, y] = [LEFT + SIDE - 20, top + 62];
  return html`${entries.map(([mark, words], k) => {
    const line = top + LINE * k;
    return html`<path class="${mark}" d="M${LEFT} ${line - 4}h26"/><text x="${LEFT + 34}" y="${line}">${words}</text>\n`;
  })}<path class="axis" d="M${x} ${y}h-44m6 -4l-6 4l6 4M${x} ${y}v-44m-4 6l4 -6l4 6"/>
<text text-anchor="middle" x="${x - 56}" y="${y + 4}">+x</text><text text-anchor="middle" x="${x}" y="${y - 50}">+y</text><text text-anchor="end" x="${x}" y="${y + 16}">of the pattern</text>
`;
}

const draftMark = (): Html => {
  const [x, y] = [LEFT + SIDE / 2, TOP + SIDE / 2];
  return html`<text class="draft" font-size="40" opacity="0.3" text-anchor="middle" x="${x}" y="${y}" transform="rotate(-25 ${x} ${y})">${DRAFT_WORDS}</text>\n`;
};
