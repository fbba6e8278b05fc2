/**
 * The title block: what the drawing is, from which side it is seen, what the substrate and the process are, and the
 * conventions that anyone who uses it has to know. Each field is a name and a text.
 */

import { type Design, patternsOf } from '../../../design/design.ts';
import { ELLIPSE_TOLERANCE } from '../../../geometry/ellipse-edge.ts';
import { boundsOf } from '../../../geometry/extent.ts';
import type { Outline } from '../../../geometry/outline.ts';
import type { Vec2 } from '../../../geometry/vector.ts';
import { limitOf, placementCountedOn } from '../../../metrology/budget/fabricator-limits.ts';
import { NM_PER_MM } from '../../../quantity/conversion.ts';
import { trimmed } from '../../../quantity/format.ts';
import type { KeepOut, NullTest } from '../../../scenario/scenario.ts';
import { DRAFT_WORDS, zeroLines } from '../../convention.ts';
import type { Provenance } from '../../provenance.ts';
import { ACCEPTANCE_WORDS, blankDrawingWords, NOT_STATED, writtenAreas } from '../../written-areas.ts';
import { cornersOfBox } from '../boxes.ts';
import { MOST_LEADERS } from '../captions/caption-placing.ts';
import { datumsOf } from '../datum-marks.ts';
import { type Item, lineCurves } from '../drawing.ts';
import { drawable, type Lettering, textAt, wrapped } from '../lettering.ts';
import { marksInWords } from '../mark-model.ts';
import { isRound } from '../outline-model.ts';
import { firstOf, seatWords } from '../seat-model.ts';
import { MOST_ROWS, micrometresOf, placedOutlineText } from './patch-table.ts';
import { FRAME_HEIGHT, toleranceFrame } from './tolerance-frame.ts';

interface Line {
  readonly name: string;
  readonly text: string;
  /** Cells of a tolerance indicator that stands before the text. */
  readonly frame?: readonly string[];
}

/** A title block measured and wrapped, ready to be drawn anywhere. */
export interface TitleBlockLayout {
  readonly lines: readonly Line[];
  readonly height: number;
  readonly width: number;
  readonly lettering: Lettering;
}

/** In text heights: the column of names, room at the sides, base line to base line. */
const NAMES = 11.5;
const BESIDE = 0.8;
const LINE = 1.5;
/** Above each field but the first, in text heights. */
const BETWEEN = 0.35;

/** Below a tolerance indicator, in text heights. */
const FRAME_GAP = 0.3;
const pitch = ({ frame }: Line): number => (frame ? FRAME_HEIGHT + FRAME_GAP : LINE);

/** A space at which no line is broken, written as a plain one. */
const UNBROKEN = '\u00a0';
const whole = (formula: string): string => formula.replaceAll(' ', UNBROKEN);

/** From which side the drawing is seen, and where its pattern is then. */
export const viewStatement = (patternFaces: 'part' | 'interferometer'): string =>
  patternFaces === 'part'
    ? 'SEEN FROM PART SIDE – PATTERN SURFACE TOWARD VIEWER'
    : 'SEEN FROM PART SIDE – PATTERN ON FAR SIDE, SEEN THROUGH THE GLASS';

export function layTitleBlock(
  design: Design,
  context: Provenance,
  sheetName: string | undefined,
  lettering: Lettering,
  width: number,
): TitleBlockLayout {
  const { text } = lettering;
  const room = width - (NAMES + 2 * BESIDE) * text;
  const lines: Line[] = [];
  const add = (name: string, words: string) => {
    for (const [k, line] of wrapped(words, text, room).entries()) {
      lines.push({ name: k === 0 ? name : '', text: line.replaceAll(UNBROKEN, ' ') });
    }
  };
  const { substrate, process, keepOuts } = design.scenario;
  const isListed = patternsOf(design).length <= MOST_ROWS;
  if (context.draft) add('STATUS', DRAFT_WORDS);
  add('TITLE', drawable(design.scenario.title) || 'Reference patches');
  const { drawing } = design.scenario;
  const date = drawing?.date || context.date || '';
  add(
    'DOCUMENT',
    `${shown(drawing?.documentType ?? 'Layout drawing')}: reference patches on a hologram substrate`,
  );
  add(
    'NUMBER',
    `${shown(drawing?.number)}, REVISION ${shown(drawing?.revision)}${date === '' ? '' : `, ${drawable(date, 20)}`}, SHEET ${drawing?.page ?? '1 of 1'}`,
  );
  const [owner, creator, approver] = [drawing?.owner, drawing?.creator, drawing?.approver].map(shown);
  add('OWNER', `${owner}, CREATOR ${creator}, APPROVER ${approver}`);
  add('VIEW', viewStatement(substrate.patternFaces));
  add('', 'x right, y up; seen along -z, against the light, from the part to the interferometer');
  add(
    'PATTERN',
    `side ${substrate.patternFaces === 'part' ? 'up' : 'down'}, toward the ${substrate.patternFaces}`,
  );
  add('SUBSTRATE', substrateWords(design));
  add('PROCESS', processWords(process));
  for (const { name, text: words } of writtenAreas(design, context.patternFiles)) add(name, words);
  add(
    'SURFACE',
    `Diffractive surface at ${whole('z = 0')} to ${whole('ISO 10110-16')}: phase from coefficients.csv, orders from ${isListed ? 'the patch table' : 'the same file'}, wavelength ${trimmed(micrometresOf(design.light.wavelength), 9)} µm in air`,
  );
  add('', `${blankDrawingWords(design)} ${ACCEPTANCE_WORDS}`);
  if (design.main !== undefined) add('MAIN PATTERN', mainWords(design.main.test));
  add('KEEP-OUTS', keepOutWords(keepOuts));
  if (design.scenario.seats.length > 0) add('SEATS', seatWords(design.scenario.seats));
  const marks = marksInWords(design);
  if (marks !== undefined) add('MARKS', marks);
  add(
    'PHASE',
    `Phi in waves at order 1; in order m ${whole('E_out = E_in + m lambda Phi')}, E the optical path along the light;`,
  );
  add(
    '',
    `${whole('Phi = 0')} at the patch centre before any tilt or roof; pattern line k lies where ${whole('Phi = k')}`,
  );
  for (const line of zeroLines(design)) add('', line);
  add(
    'PRECEDENCE',
    `Pattern: coefficients.csv${hashWords(context.tableHash)}. Positions: ${isListed ? 'the patch table' : 'coefficients.html'}. This view shows them only.`,
  );
  add(
    'DATUMS',
    `${datumWords(substrate.outline)}${process.positionToEdge === undefined ? ' No tolerance to the edge is stated.' : ''} Ordinates in brackets are auxiliary (${whole('ISO 129-1')}).`,
  );
  lines.push(...tolerances(design));
  add('NOTES', 'Arrows in a patch: direction of its line focus, angle from +x toward +y.');
  if (design.patches.length > MOST_LEADERS)
    add(
      '',
      'Numbers that do not fit beside their patches are lettered small on them: enlarge the file to read them.',
    );
  if (outlinesOf(design).some(({ shape }) => shape === 'ellipse'))
    add(
      '',
      `Ellipses are written as arcs, nowhere more than ${trimmed(NM_PER_MM * ELLIPSE_TOLERANCE, 3)} nm off.`,
    );
  add(
    '',
    `Lines ISO 128-2: wide outlines, dashed keep-outs, chain centre lines. Lettering ${whole('ISO 3098')}. Sheet ${whole(sheetName?.startsWith('ANSI') ? 'ASME Y14.1' : 'ISO 5457')}.`,
  );
  add('UNITS', `mm, angles in degrees – scale 1:1 – ${whole(`sheet ${sheetName ?? 'of no standard size'}`)}`);
  add(
    'SCENARIO',
    `SHA-256 ${drawable(context.scenarioHash).slice(0, HASH_DIGITS)} – datumlight ${drawable(context.version, 40)}`,
  );
  const fields = lines.filter(({ name }) => name !== '').length;
  const height =
    (lines.reduce((sum, line) => sum + pitch(line), 0) + 2 * BESIDE + BETWEEN * (fields - 1)) * text;
  return { lines, height, width, lettering };
}

/** Enough of a hash to tell two files apart by eye. */
const HASH_DIGITS = 12;
const hashWords = (hash: string | undefined): string =>
  hash === undefined ? '' : ` (SHA-256 ${drawable(hash).slice(0, HASH_DIGITS)})`;
const shown = (text: string | undefined): string => drawable(text ?? '', 40) || '–';

/** Indicators of position (ISO 1101): of the patterns together to the datums where a tolerance is stated, and to each other. */
function tolerances({ scenario }: Design): Line[] {
  const { positionToEdge } = scenario.process;
  const placement = placementCountedOn({ scenario });
  const letters = datumsOf(scenario.substrate.outline).map(({ letter }) => letter);
  const zone = (diameter: number): string => `Ø${trimmed(diameter, 6)} CZ`;
  const frames: Omit<Line, 'name'>[] = [];
  if (positionToEdge !== undefined && letters.length > 0)
    frames.push({ frame: [zone(positionToEdge), ...letters], text: 'all together, to the edge' });
  if (placement.stated && placement.u > 0)
    frames.push({ frame: [zone(2 * limitOf(placement))], text: 'to each other: 2 u of placement' });
  return frames.map((line, k) => ({ name: k === 0 ? 'POSITION' : '', ...line }));
}

const outlinesOf = (design: Design): readonly Outline[] => [
  design.scenario.substrate.outline,
  ...design.scenario.keepOuts.map(({ outline }) => outline),
  ...patternsOf(design).map(({ pattern }) => pattern.outline),
];

/** What the axes of the substrate frame are set by. */
function datumWords(outline: Outline): string {
  const axes = `axes ${whole('x = 0')} and ${whole('y = 0')} of the substrate frame`;
  if (isRound(outline)) {
    const [x, y] = outline.centre;
    const from =
      x === 0 && y === 0
        ? 'through the axis of the round edge'
        : `located by the axis of the round edge at (${trimmed(x, 6)}, ${trimmed(y, 6)})`;
    return `A: the axis of the round edge. Positions from the ${axes}, ${from}; rotation about z set by the pattern.`;
  }
  const { minX, minY } = boundsOf(outline);
  const named = datumsOf(outline).map(({ letter, feature }) => `${letter}: the ${feature}. `);
  return `${named.join('')}Positions from the ${axes}: left edge at ${whole(`x = ${trimmed(minX, 6)}`)}, bottom edge at ${whole(`y = ${trimmed(minY, 6)}`)}.`;
}

/** The block with its bottom left corner at `corner`. */
export function titleBlockItems(block: TitleBlockLayout, [left, bottom]: Vec2): Item[] {
  const { text } = block.lettering;
  const [right, top] = [left + block.width, bottom + block.height];
  const corners = cornersOfBox({ left, bottom, right, top });
  const items: Item[] = [
    lineCurves(...corners.map((corner, index) => [corner, corners[(index + 1) % 4]!] as const)),
  ];
  let y = top - BESIDE * text;
  for (const line of block.lines) {
    const { name, text: words, frame } = line;
    if (name !== '' && y < top - BESIDE * text) y -= BETWEEN * text;
    y -= text * pitch(line);
    const base = y + text * (line.frame ? FRAME_GAP + FRAME_HEIGHT / 2 - 0.5 : 0.4);
    if (name !== '') items.push(textAt(name, [left + BESIDE * text, base], text));
    const x = left + (BESIDE + NAMES) * text;
    if (frame === undefined) items.push(textAt(words, [x, base], text));
    else {
      const indicator = toleranceFrame(frame, [x, y + FRAME_GAP * text], text);
      items.push(...indicator.items, textAt(words, [x + indicator.width + text, base], text));
    }
  }
  return items;
}

function substrateWords({ scenario, glass }: Design): string {
  const { outline, thickness, edgeMargin, clearance } = scenario.substrate;
  const body =
    thickness === 0
      ? 'no glass in the light path'
      : `${drawable(glass.name, 60)}, thickness ${trimmed(thickness, 6)}`;
  return `${placedOutlineText(outline)}, ${body}; edge margin ${trimmed(edgeMargin, 6)}, smallest gap between patterns ${trimmed(clearance, 6)}`;
}

const PATTERN_KINDS = { etched: 'phase pattern (etched)', chrome: 'amplitude pattern (chrome)' } as const;

function processWords({
  kind,
  minFeature,
  dutyCycle,
  placement,
  placementStated,
}: Design['scenario']['process']): string {
  return [
    PATTERN_KINDS[kind],
    `smallest feature ${trimmed(micrometresOf(minFeature), 6)} µm`,
    `duty cycle ${trimmed(dutyCycle, 6)} (written width over period)`,
    `placement ${placementStated ? `${trimmed(micrometresOf(placement), 6)} µm (standard uncertainty)` : NOT_STATED}`,
  ].join(', ');
}

/** So many are named, with their sizes and places; the scenario has the rest. */
const MOST_KEEP_OUTS = 8;

const mainWords = ({ surface, margin }: NullTest): string =>
  `M: null of surface ${drawable(surface, 64)}; outline: its aperture carried along the surface’s normals, and a margin of ${trimmed(margin, 6)} mm`;

function keepOutWords(keepOuts: readonly KeepOut[]): string {
  if (keepOuts.length === 0) return 'none';
  const words = ({ id, outline }: KeepOut): string => `${drawable(id, 40)}: ${placedOutlineText(outline)}`;
  return `${keepOuts.length} – ${firstOf(keepOuts, MOST_KEEP_OUTS, words)}`;
}
