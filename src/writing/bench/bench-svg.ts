/**
 * `bench.svg`: beam, hologram, part, references, mounts, seats and light paths to scale, in side view and plan view, with details
 * where the hologram or the references would be too small. mm on paper; every panel has its scale, a bar, and rulers in the
 * substrate frame. The same design gives the same bytes.
 */
import type { Design } from '../../design/design.ts';
import { trimmed } from '../../quantity/format.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { drawable, roomFor, wrapped } from '../drawing/lettering.ts';
import { degrees, places } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import { RED } from '../palette.ts';
import { beamWords, glassWords } from '../setup-words.ts';
import { type Block, footOf, LINE } from './legend.ts';
import { TEXT } from './name-placing.ts';
import { isNumbered, type Panel, panelOf } from './panel.ts';
import { hasPart } from './panel-bodies.ts';
import { number, panelSvg, type Size, sizeOf, text } from './panel-svg.ts';
import { PLAN, SIDE } from './projection.ts';
import { commonKind, type NamedIn } from './things.ts';
import { type WindowPair, type Windows, windowsOf } from './windows.ts';

const EDGE = 8;
const LEAST_WIDTH = 175;
/** The overview's views stand side by side where they are no wider, mm. */
const MOST_ABREAST = 195;
const BETWEEN = 5;
const VIEWS = { side: 'side view from −x', plan: 'plan view from +y' } as const;
const LETTERS = ['A', 'B'] as const;
const CAPITALS = 0.72;
/** Height of the title's capitals, mm, and what bold letters take more. */
const TITLE = 3.5;
const BOLD = 1.1;

/** The drawing as a document of its own, and in strips for a page that breaks between them. */
export interface BenchDrawing {
  readonly svg: string;
  /** Each row of views, then the legend: elements of one width, from top to bottom; what the head says is not in them. */
  readonly strips: readonly Html[];
  /** What the head says beneath the title, a sentence or two each. */
  readonly words: readonly string[];
}

export function benchDrawing(design: Design, { draft }: { readonly draft: boolean }): BenchDrawing {
  const windows = windowsOf(design);
  const blocks = panelsOf(design, windows);
  const wide = Math.max(
    LEAST_WIDTH,
    ...blocks.map((row) => widthOfRow(row.map(({ panel, name }) => sizeOf(panel, name)))),
  );
  const head = headOf(design, windows, wide, draft);
  let y = EDGE + head.height;
  const tops: number[] = [];
  const rows = blocks.map((row): Html => {
    let x = EDGE;
    tops.push(y);
    const drawn = row.map(({ panel, name }): Html => {
      const svg = panelSvg(panel, name, x, y);
      x += sizeOf(panel, name).width + BETWEEN;
      return svg;
    });
    y += Math.max(...row.map(({ panel, name }) => sizeOf(panel, name).height)) + BETWEEN;
    return html`${drawn}`;
  });
  const foot = footOf(
    design,
    blocks.flat().map(({ panel }) => panel),
    { left: EDGE, width: wide, top: y },
  );
  const [width, height] = [wide + 2 * EDGE, y + foot.height + EDGE];
  const strip = (content: Html, k: number, label: string): Html => {
    const top = tops[k]!;
    const tall = (tops[k + 1] ?? height) - top;
    return html`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${label}" viewBox="0 ${number(top)} ${number(width)} ${number(tall)}" font-family="${FONTS}">
${content}${draft ? draftMark(width, tall, top) : ''}</svg>`;
  };
  tops.push(y);
  const strips = [
    ...rows.map((row, k) => strip(row, k, blocks[k]!.map(({ name }) => name).join('; '))),
    strip(foot.svg, rows.length, 'Legend'),
  ];
  const svg = html`<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" aria-labelledby="title desc" width="${number(width)}mm" height="${number(height)}mm" viewBox="0 0 ${number(width)} ${number(height)}" font-family="${FONTS}">
<title id="title">${titleOf(design)}</title>
<desc id="desc">${draft ? `${DRAFT_WORDS}. ` : ''}The bench to scale: side view seen from -x, plan view seen from +y; z, the light's direction, to the right. Units of the drawing: mm on paper.</desc>
<rect width="${number(width)}" height="${number(height)}" fill="#ffffff"/>
${head.svg}${rows}${foot.svg}${draft ? draftMark(width, height, 0) : ''}</svg>
`.text;
  return { svg, strips, words: head.words };
}

const FONTS = 'Arial, Helvetica, Liberation Sans, DejaVu Sans, sans-serif';

interface Named {
  readonly panel: Panel;
  readonly name: string;
}

/** Rows of panels: the overview's views beneath each other, each detail's side by side. */
function panelsOf(design: Design, { overview, details, showsFocus }: Windows): readonly (readonly Named[])[] {
  const shown = new Set(details.map(({ purpose }) => purpose));
  const names = (purpose: NamedIn): ReadonlySet<NamedIn> =>
    purpose === 'overview'
      ? new Set((['overview', 'glass', 'references'] as const).filter((each) => !shown.has(each)))
      : new Set([purpose]);
  const { beam } = design.scenario.interferometer;
  const focus = showsFocus && beam.kind !== 'collimated' ? `focus ${places(beam.focus)}` : undefined;
  const panelIn = (pair: WindowPair, view: 'side' | 'plan', name: string): Named => ({
    name,
    panel: panelOf(pair[view], {
      ...{ design, pair, names: names(pair.purpose) },
      focus: pair === overview ? focus : undefined,
      lightFrom:
        pair[view].box.left < -design.scenario.substrate.thickness
          ? pair[view].box.left
          : overview[view].box.left,
      details:
        pair === overview ? details.map((one, k) => ({ letter: LETTERS[k]!, box: one[view].box })) : [],
    }),
  });
  const views = [panelIn(overview, 'side', SIDE.title), panelIn(overview, 'plan', PLAN.title)];
  const isNarrow = widthOfRow(views.map(({ panel, name }) => sizeOf(panel, name))) <= MOST_ABREAST;
  return [
    ...(isNarrow ? [views] : views.map((each) => [each])),
    ...details.map((pair, k) =>
      (['side', 'plan'] as const).map((view) => panelIn(pair, view, `${LETTERS[k]!}: ${VIEWS[view]}`)),
    ),
  ];
}

const widthOfRow = (sizes: readonly Size[]): number =>
  sizes.reduce((sum, { width }) => sum + width, (sizes.length - 1) * BETWEEN);

interface Head extends Block {
  readonly words: readonly string[];
}

function headOf(design: Design, windows: Windows, width: number, draft: boolean): Head {
  const { part, interferometer } = design.scenario;
  const { showsFocus } = windows;
  const hasNumbers = isNumbered(design) && windows.details.some(({ purpose }) => purpose === 'glass');
  const { beam } = interferometer;
  const off =
    beam.kind === 'collimated' || showsFocus
      ? ''
      : ` Its focus, ${places(beam.focus)}, is off the drawing, to the ${beam.kind === 'diverging' ? 'left' : 'right'}.`;
  const lit =
    design.beam.radius === undefined
      ? ' (no f-number or diameter given: drawn as wide as the hologram)'
      : `, lights a circle of ${trimmed(2 * design.beam.radius, 1)} mm on the pattern`;
  const common = commonKind(design);
  const words = [
    `Beam: ${beamWords(design)}${lit}.${off}`,
    `Glass: ${glassWords(design)}.`,
    ...(hasPart(design)
      ? [
          `Part: origin at ${places(part.frame.origin)} mm, rotated by ${part.rotation.map(degrees).join('°, ')}° about its x, y, z in turn.`,
        ]
      : []),
    ...(common === undefined ? [] : [`References: ${common}.`]),
    `The light runs from left to right. The pattern is at z = 0.${hasNumbers ? ' Numbers beside it are those of the patches on the layout drawing.' : ''}${hasNumbers && design.main !== undefined ? ' M: the main pattern.' : ''}`,
  ];
  const lines = words.flatMap((line) => wrapped(line, TEXT, width));
  const above = draft ? 7 : 0;
  const title = wrapped(titleOf(design), TITLE * BOLD, width);
  const first = EDGE + above + TITLE + (title.length - 1) * 6;
  return {
    words,
    svg: html`${draft ? html`<text x="${EDGE}" y="${EDGE + 3.5}" font-size="4.9" font-weight="bold" fill="${RED}">${DRAFT_WORDS}</text>\n` : ''}${title.map((line, k) => html`<text x="${EDGE}" y="${number(EDGE + above + TITLE + k * 6)}" font-size="${number(TITLE / CAPITALS)}" font-weight="bold">${line}</text>\n`)}${lines.map((line, k) => html`${text(line, EDGE, first + 2 + (k + 1) * LINE)}\n`)}`,
    height: first - EDGE + 2 + (lines.length + 1) * LINE,
  };
}

const titleOf = ({ scenario }: Design): string => `Bench: ${drawable(scenario.title) || 'reference patches'}`;

/** Across the drawing, or a strip of it from `top` on. */
function draftMark(width: number, height: number, top: number): Html {
  const size = (0.7 * Math.sqrt(width * width + height * height)) / roomFor(DRAFT_WORDS, 1);
  const angle = (-Math.atan2(height, width) * 180) / Math.PI;
  const [x, y] = [width / 2, top + height / 2];
  return html`<text x="${number(x)}" y="${number(y)}" font-size="${number(size / CAPITALS)}" text-anchor="middle" transform="rotate(${number(angle)} ${number(x)} ${number(y)})" fill="${RED}" opacity="0.18">${DRAFT_WORDS}</text>
`;
}
