/**
 * `reach.svg`, the reach map: for each reference the glass with the places that can serve it under `process.minFeature`, and beside
 * it, at the reference's height, the region that each of its patches can serve at all, from where its pattern is finest: the pattern
 * can be written there if the reference lies in it (for a line focus, to first order in the patch's size). Seen from the part side,
 * x to the right and y up, each panel to a scale of its own, with a bar. Not drawn: where the part, seats or other patches stand in
 * the way (rules `blocked`, `seat-clash`, `patch-overlap`). Units of the drawing px; figures mm and µm as they say.
 */

import type { Design, DesignedPatch } from '../../design/design.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { reachOf, widestBend } from '../../metrology/reach/reach.ts';
import { DEG_PER_RAD, NM_PER_MM, UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { drawable } from '../drawing/lettering.ts';
import { viewStatement } from '../drawing/sheet/title-block.ts';
import { type Html, html } from '../page/html.ts';
import { ENOUGH, HEAD_FILL, INK, NONE, PLENTY, QUIET_INK, REACH, RED } from '../palette.ts';
import { glassPanel, SIDE, spacePanel } from './reach-panels.ts';

const GAP = 24;
const WIDTH = 3 * GAP + 2 * SIDE;
const LINE = 15;
const HEAD = 184;
const DRAFT_LINE = 22;
/** Heading, panel, scale bar and two captions. */
const ROW = 24 + SIDE + 70;
/** References that are drawn; report.json has the figures of all. */
const MOST_DRAWN = 24;
const LONGEST_TITLE = 56;

export function reachMapSvg(design: Design, { draft }: { readonly draft: boolean }): string {
  const { cells, references } = reachOf(design);
  const patches = new Map<string, DesignedPatch[]>();
  for (const patch of design.patches) {
    const own = patches.get(patch.reference.id);
    if (own === undefined) patches.set(patch.reference.id, [patch]);
    else own.push(patch);
  }
  const above = draft ? DRAFT_LINE : 0;
  const drawn = references.slice(0, MOST_DRAWN);
  const rows = drawn.map((reach, k): Html => {
    const { id, kind } = reach.reference;
    const own = patches.get(id) ?? [];
    const top = above + HEAD + k * ROW;
    return html`<g>
<text class="strong" x="${GAP}" y="${top + 12}">${id}: ${kindOf({ kind: kind }).words.long}</text>
${glassPanel(design, cells, reach, own, GAP, top + 24)}
${spacePanel(design, reach.reference, own, 2 * GAP + SIDE, top + 24)}
${draft ? draftMark(top + 24) : ''}</g>
`;
  });
  const left = references.length - drawn.length;
  const height = above + HEAD + drawn.length * ROW + (left > 0 ? GAP : 0);
  const { patternFaces } = design.scenario.substrate;
  return html`<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" aria-labelledby="title desc" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" font-family="Arial, Helvetica, Liberation Sans, DejaVu Sans, sans-serif" font-size="11">
<title id="title">${titleOf(design)}</title>
<desc id="desc">${draft ? `${DRAFT_WORDS}. ` : ''}Which areas of the glass can serve each reference, and what each patch can reach. ${viewStatement(patternFaces)}.</desc>
<style>.strong{font-weight:bold;font-size:13px}.quiet{fill:${QUIET_INK}}.draft{fill:${RED};font-weight:bold}.plenty{fill:${PLENTY}}.enough{fill:${ENOUGH}}.none{fill:${NONE}}.edge{fill:none;stroke:${INK}}.kept{fill:#fff;stroke:${INK}}${design.main === undefined ? '' : `.main{fill:${HEAD_FILL};stroke:${INK};stroke-dasharray:4 2}`}.patch{fill:none;stroke:${RED};stroke-width:1.5}.reach{fill:${REACH};fill-opacity:.1;stroke:${REACH}}.target{fill:${RED};stroke:#fff}.bar{stroke:${INK};stroke-width:2}</style>
<rect width="100%" height="100%" fill="#fff"/>
${draft ? html`<text class="draft" font-size="15" x="${GAP}" y="${GAP}">${DRAFT_WORDS}</text>\n` : ''}${head(design, cells.pitch, above + GAP)}
${rows}${left > 0 ? html`<text x="${GAP}" y="${height - 10}">and ${left} more references: see report.json for their figures</text>\n` : ''}</svg>
`.text;
}

/** Whether a text starts as a reach map does. */
export const isReachMap = (head: string): boolean => head.includes(`<title id="title">${TITLE}`);

const TITLE = 'Reach map: ';
const titleOf = ({ scenario }: Design): string =>
  `${TITLE}${drawable(scenario.title, LONGEST_TITLE) || 'reference patches'}`;

function head(design: Design, pitch: number, top: number): Html {
  const { process, substrate } = design.scenario;
  const bend = Math.asin(Math.min(1, widestBend(design))) * DEG_PER_RAD;
  const lines = [
    viewStatement(substrate.patternFaces),
    'x to the right, y up; each panel has its own scale bar; lengths in mm',
    `Features of ${trimmed(process.minFeature * UM_PER_MM, 3)} µm or more, duty cycle ${trimmed(process.dutyCycle, 3)}: order 1 deflects light of ${trimmed(design.light.wavelength * NM_PER_MM, 2)} nm by up to ${trimmed(bend, 1)}°`,
    `Glass sampled in ${trimmed(pitch, 2)} mm squares; not drawn: obstruction by part, seats or other patches`,
  ];
  return html`<text class="strong" x="${GAP}" y="${top}">${titleOf(design)}</text>
${lines.map((line, k) => html`<text x="${GAP}" y="${top + 18 + LINE * k}">${line}</text>\n`)}${legend(top + 86, design.main !== undefined)}`;
}

/** Two columns of samples, wide enough for the words in any font. */
function legend(top: number, hasMain: boolean): Html {
  const entries: readonly (readonly [mark: string, words: string])[] = [
    ['plenty', 'free glass: features at least twice the minimum'],
    ['reach', 'region that a patch can reach'],
    ['enough', 'free glass: features of the minimum or more'],
    ['patch', 'outline of a patch'],
    ['none', 'free glass that cannot serve the reference'],
    ['target', 'the reference'],
    ['edge', 'edge of the glass, keep-outs'],
    ...(hasMain ? [['main', 'M: the main pattern'] as const] : []),
  ];
  return html`${entries.map(([mark, words], k) => {
    const x = GAP + (k % 2) * (SIDE + GAP);
    const y = top + LINE * Math.floor(k / 2);
    const shape =
      mark === 'target'
        ? html`<circle class="target" cx="${x + 6}" cy="${y - 4}" r="4"/>`
        : html`<rect class="${mark}" x="${x}" y="${y - 9}" width="12" height="9"/>`;
    return html`${shape}<text x="${x + 18}" y="${y}">${words}</text>\n`;
  })}`;
}

/** Along the diagonal of both panels, as on the layout. */
const draftMark = (top: number): Html => {
  const [x, y] = [WIDTH / 2, top + SIDE / 2];
  return html`<text class="draft" font-size="44" opacity="0.35" text-anchor="middle" x="${x}" y="${y}" transform="rotate(-25 ${x} ${y})">${DRAFT_WORDS}</text>\n`;
};
