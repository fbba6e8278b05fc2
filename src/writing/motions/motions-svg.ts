/**
 * `motions.svg`: what each degree of the part and of the hologram leaves in the measured figure, as small maps in the camera's view, in one
 * scale of colours for each quantity. Heights in nm for 1 µm or 1 µrad; units of the drawing px.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { motionMaps } from '../../metrology/null/motion-maps.ts';
import { trimmed } from '../../quantity/format.ts';
import { powerOfTen } from '../../quantity/power.ts';
import { DRAFT_WORDS, type Draft } from '../convention.ts';
import { drawable } from '../drawing/lettering.ts';
import { withMinus } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import { DIVERGING, INK, QUIET_INK, RED } from '../palette.ts';
import { colouredPngAddress } from '../picture/stored-png.ts';
import { nmWords } from '../report/reported-test.ts';
import { ACROSS, isTurn, type MapGrid, mapGrids, type View } from './map-grids.ts';

/** Of a map, of the room about it, and of what stands around all of them. */
const MAP = 104;
const [STEP_X, STEP_Y] = [MAP + 14, MAP + 34];
const [LEFT, TOP, RIGHT] = [142, 168, 24];
/** Between moves and turns, and between part and hologram. */
const [GAP_X, GAP_Y] = [26, 14];
const WIDTH = LEFT + 6 * STEP_X + GAP_X + RIGHT;
const BARS = TOP + 4 * STEP_Y + GAP_Y + 34;
const HEIGHT = BARS + 112;
const LINE = 16;
const LONGEST_TITLE = 70;

/** Before and after the evaluation. */
const STATES = ['raw', 'left'] as const;
type State = (typeof STATES)[number];

export function motionsSvg(design: Design, main: MainPattern, { draft }: Draft): string {
  const { view, edges, grids } = mapGrids(design, main, motionMaps(design)!);
  const limits = new Map(
    STATES.flatMap((state) =>
      [false, true].map((turns) => [quantity(state, turns), limitOf(grids, state, turns)] as const),
    ),
  );
  const { surface, removed } = main.test;
  const title = `What motions leave on surface ${surface}: ${drawable(design.scenario.title, LONGEST_TITLE) || 'the null test'}`;
  const evaluated = removed.length === 0 ? 'nothing removed' : `less ${removed.join(', ')}`;
  const head = [
    'SEEN FROM THE INTERFEROMETER, as the camera sees it: x of the pattern to the left, y up',
    'Error of surface height, nm, for 1 µm along an axis or 1 µrad about one; the wavefront has twice as much. Orange: high, toward the hologram; blue: low',
    `As measured: less piston. Evaluated: ${evaluated}. Under each map its rms; motions.csv has the Zernike terms`,
    'Part: axes of the part frame, about its origin. Hologram: axes of the substrate frame, about its origin; beam and part at rest',
  ];
  return html`<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" aria-labelledby="title desc" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="Arial, Helvetica, Liberation Sans, DejaVu Sans, sans-serif" font-size="11">
<title id="title">${title}</title>
<desc id="desc">${draft ? `${DRAFT_WORDS}. ` : ''}${head.join('. ')}.</desc>
<style>.strong{font-weight:bold;font-size:13px}.edge{fill:none;stroke:${INK};stroke-width:1.2}.frame{fill:none;stroke:${INK}}.quiet{fill:${QUIET_INK}}.draft{fill:${RED};font-weight:bold}</style>
<defs><path id="edge" clip-rule="evenodd" d="${edges.map((edge) => pathOf(edge, view))}"/><clipPath id="aperture"><use href="#edge"/></clipPath></defs>
<rect width="100%" height="100%" fill="#fff"/>
${draft ? html`<text class="draft" font-size="15" x="20" y="18">${DRAFT_WORDS}</text>\n` : ''}<text class="strong" x="20" y="38">${title}</text>
${head.map((words, k) => html`<text x="20" y="${58 + LINE * k}">${words}</text>\n`)}${columnHeads(grids)}${STATES.flatMap((state) => grids.map((grid, k) => cell(grid, state, k, limits.get(quantity(state, isTurn(grid.map)))!)))}${rowHeads()}${STATES.flatMap((state, row) => [false, true].map((turns) => bar(limits.get(quantity(state, turns))!, state, turns, row)))}${draft ? draftMark() : ''}</svg>
`.text;
}

const quantity = (state: State, turns: boolean): string => `${state} ${turns ? 'urad' : 'um'}`;

/** The round number above the largest height, nm. */
function limitOf(grids: readonly MapGrid[], state: State, turns: boolean): number {
  const shown = grids.filter(({ map }) => isTurn(map) === turns);
  const most = Math.max(LEAST_LIMIT, ...shown.map((grid) => grid.most[state]));
  const unit = powerOfTen(Number(most.toExponential().split('e')[1]));
  return unit * (ROUND.find((factor) => factor * unit >= most) ?? 10);
}

/** nm: what is less is rounding, and no colour shows it. */
const LEAST_LIMIT = 1e-6;
const ROUND = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];

const number = (value: number): string => trimmed(value, 2);
const columnX = (column: number): number => LEFT + column * STEP_X + (column > 2 ? GAP_X : 0);
/** Rows: the part as measured and evaluated, then the hologram. */
const rowY = (row: number): number => TOP + row * STEP_Y + (row > 1 ? GAP_Y : 0);

/** Of the aperture's edge, within a map's corner at 0, 0. */
const pathOf = (edge: readonly (readonly [number, number])[], { corner, side }: View): string =>
  `${edge
    .map((place, k) => {
      const [x, y] = place.map((value, axis) => ((value - corner[axis]!) * MAP) / side) as [number, number];
      return `${k === 0 ? 'M' : 'L'}${number(x)} ${number(y)}`;
    })
    .join('')}Z`;

function cell(grid: MapGrid, state: State, k: number, limit: number): Html {
  const { of, degree } = grid.map;
  const x = columnX(k % 6);
  const y = rowY((of === 'part' ? 0 : 2) + STATES.indexOf(state));
  const rms = grid.rms[state] < LEAST_LIMIT ? '0 nm' : nmWords(grid.rms[state]);
  const address = colouredPngAddress({
    width: ACROSS,
    height: ACROSS,
    pixels: Uint8Array.from(grid[state], (value) => levelOf(value, limit)),
    colours: DIVERGING,
  });
  return html`<g transform="translate(${x} ${y})"><title>${of} ${degree}, ${STATE_WORDS[state]}: ${rms} rms</title><image clip-path="url(#aperture)" width="${MAP}" height="${MAP}" preserveAspectRatio="none" href="${address}"/><use class="edge" href="#edge"/><text text-anchor="middle" x="${MAP / 2}" y="${MAP + 14}">${rms}</text></g>
`;
}

const STATE_WORDS: Readonly<Record<State, string>> = { raw: 'as measured', left: 'evaluated' };
const MIDDLE = (DIVERGING.length - 1) / 2;

/** A place in DIVERGING; the one after its last where there is no height. */
function levelOf(value: number, limit: number): number {
  if (Number.isNaN(value)) return DIVERGING.length;
  const level = Math.round((value / limit) * (MIDDLE + 0.5));
  return MIDDLE + Math.max(-MIDDLE, Math.min(MIDDLE, level));
}

const columnHeads = (grids: readonly MapGrid[]): readonly Html[] => [
  ...grids
    .slice(0, 6)
    .map(
      ({ map }, k) =>
        html`<text class="strong" text-anchor="middle" x="${columnX(k) + MAP / 2}" y="${TOP - 10}">${map.degree}</text>\n`,
    ),
  ...[0, 3].map(
    (first) =>
      html`<text class="quiet" text-anchor="middle" x="${columnX(first + 1) + MAP / 2}" y="${TOP - 30}">${first === 0 ? 'nm for 1 µm along' : 'nm for 1 µrad about'}</text>\n`,
  ),
];

const rowHeads = (): readonly Html[] =>
  (['part', 'hologram'] as const).flatMap((of, body) =>
    STATES.map((state, k) => {
      const y = rowY(2 * body + k) + MAP / 2;
      return html`<text class="strong" x="20" y="${y - 4}">${of}</text><text x="20" y="${y + 12}">${STATE_WORDS[state]}</text>\n`;
    }),
  );

/** The scale of one quantity, for every map of it: a step of colour for each level. */
function bar(limit: number, state: State, turns: boolean, row: number): Html {
  const [x, y] = [columnX(turns ? 3 : 0), BARS + 62 * row];
  const width = 2 * STEP_X + MAP;
  const step = width / DIVERGING.length;
  const ticks = [-1, -0.5, 0, 0.5, 1].map((part) => {
    const at = number(x + ((part + 1) / 2) * width);
    return html`<path class="frame" d="M${at} ${y + 14}v4"/><text text-anchor="middle" x="${at}" y="${y + 30}">${withMinus(plain(part * limit))}</text>`;
  });
  return html`<text x="${x}" y="${y - 6}">${STATE_WORDS[state]}: nm of height for 1 ${turns ? 'µrad' : 'µm'}, part and hologram</text>
${DIVERGING.map((colour, k) => html`<rect fill="${colour}" x="${number(x + k * step)}" y="${y}" width="${number(step + 0.2)}" height="14"/>`)}<rect class="frame" x="${x}" y="${y}" width="${width}" height="14"/>${ticks}
`;
}

/** To three digits. */
const plain = (value: number): string => trimmed(Number(value.toPrecision(3)), 12);

const draftMark = (): Html => {
  const [x, y] = [WIDTH / 2, HEIGHT / 2];
  return html`<text class="draft" font-size="52" opacity="0.3" text-anchor="middle" x="${x}" y="${y}" transform="rotate(-25 ${x} ${y})">${DRAFT_WORDS}</text>\n`;
};
