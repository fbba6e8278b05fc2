/**
 * A ring on the sheet: its fringes on the way to alignment, what turns and shifts of the hologram or of the part do to them, when to stop,
 * and how they are counted for `steer`. A return ring is of the hologram, in the substrate frame; light at normal incidence of the part, in its
 * own. mm, radians.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { stripPicture } from '../../metrology/camera/fringe-picture.ts';
import { hologramStep } from '../../metrology/job/hologram-step.ts';
import { type RingMove, ringMoves } from '../../metrology/rings/ring-moves.ts';
import { leading, type RingState, ringBranches, ringStates } from '../../metrology/rings/ring-strip.ts';
import { RING_COUNTS, rulerOf } from '../../metrology/sensing/ring-count.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { clockDirection } from '../page/clock.ts';
import { axisWords, fringeWords, significant, stateWords } from '../page/figures.ts';
import { type Html, type HtmlValue, html } from '../page/html.ts';
import { amountWords, bodyMoveWords } from '../page/move-words.ts';
import { pngAddress } from '../picture/stored-png.ts';
import type { ReportedPatch } from '../report/report-form.ts';
import { biasSlope, turningWords } from './turning-words.ts';

/** Pixels a side of each picture: a ring is narrow in its square. */
const SIZE = 96;

export function ringFigure(
  design: Design,
  patch: DesignedPatch,
  fringesAtNull: number | null,
  orientation: CameraOrientation,
): Html {
  const states = ringStates(design, patch);
  if (states.length === 0) return html``;
  const picture = pngAddress(stripPicture(patch, ringBranches(design, patch, states), SIZE, orientation));
  return html`<figure class="${states.length > 4 ? 'strip six' : 'strip'}">
<img src="${picture}" alt="Fringes of ${patch.id}: ${states.map(nameOf).join(', ')}" width="${SIZE * states.length}" height="${SIZE}">
<ol>${states.map((state) => html`<li><strong>${stateWords(nameOf(state), fringesAtNull)}</strong><br>${offWords(state)}</li>`)}</ol>
</figure>`;
}

const nameOf = ({ name, move: { count } }: RingState): string =>
  name !== 'one fringe' || count === 0 ? name : count === 1 ? 'second direction' : 'along the light';

const offWords = ({ move, fringes }: RingState): string =>
  fringes === 0 ? 'in place' : `${move.of} ${amount(move, fringes)} off, ${fringeWords([fringes])}`;

const amount = ({ kind, perFringe }: RingMove, fringes = 1): string =>
  amountWords(kind, Math.hypot(...perFringe) * fringes);

/** Empty for a ring whose fringes show no motion. */
export function ringRows(
  design: Design,
  patch: DesignedPatch,
  motion: ReportedPatch['motion'],
  orientation: CameraOrientation,
): readonly (readonly [HtmlValue, HtmlValue])[] {
  const moves = ringMoves(design, patch);
  const [first] = moves;
  if (first === undefined) return [];
  const { readable } = design.scenario.interferometer;
  const ranges = rangesOf(motion);
  return [
    ['Effect of moves', leading(moves).map((move) => effectWords(design, patch, move, moves, orientation))],
    ['Stop when', `${stopWords(patch, readable, leading(moves))}.${enoughWords(design, patch)}`],
    ...(ranges.length === 0
      ? []
      : [['Readable within', `${ranges.join(', ')} of the ${first.of}’s position`] as const]),
    ['Count for steer', countWords(patch, leading(moves), orientation)],
  ];
}

function effectWords(
  design: Design,
  patch: DesignedPatch,
  move: RingMove,
  all: readonly RingMove[],
  orientation: CameraOrientation,
): Html {
  const others = all.filter(({ count, kind }) => count === move.count && kind !== move.kind);
  const alike = others.map(
    (other) =>
      ` The same fringes by ${moveWords(design, other, orientation)}, ${amount(other)} per fringe: the ring does not tell the two apart.`,
  );
  return html`<p>${capital(moveWords(design, move, orientation))}: ${fringesWords(patch, move, orientation)}. ${amount(move)} per fringe.${alike}</p>`;
}

const capital = (words: string): string => `${words[0]!.toUpperCase()}${words.slice(1)}`;

/** What one fringe of a count does to W: it falls from the − edge to the + edge, from the inner edge to the outer. */
function fringesWords(patch: DesignedPatch, { count }: RingMove, orientation: CameraOrientation): string {
  const { widths, radii } = rulerOf(patch.outline);
  if (RING_COUNTS[count] === 'power') {
    if (patch.bias === undefined)
      return 'fringes appear that run round the ring; only a trial move shows their sign';
    if (radii[0] > NARROW * radii[1]) return leaningWords(patch, orientation);
    const curvature = -2 / (radii[1] ** 2 - radii[0] ** 2);
    return turningWords(patch, { sense: { kind: 'power' }, slope: [0, 0], curvature }, orientation);
  }
  const slope = count === 0 ? ([-1 / widths[0], 0] as const) : ([0, -1 / widths[1]] as const);
  return turningWords(patch, { sense: { kind: 'tilt' }, slope, curvature: 0 }, orientation);
}

/** Of a ring whose inner edge is farther out than this, as a part of the outer one, a fringe's middle falls into the hole. */
const NARROW = 0.5;

/**
 * What positive power does to the fringes of a bias on a ring that shows no more than their ends: W falls from the inner edge to the outer,
 * against a tilt where the ring lies toward its rise, and with it on the other side; all round alike against a roof that rises outward.
 */
function leaningWords(patch: DesignedPatch, orientation: CameraOrientation): string {
  const rise = biasSlope(patch)!;
  const lean = 'the fringes lean over and, with more of it, run along the ring';
  if (patch.bias?.shape === 'roof') return lean;
  const fall: Vec2 = [-rise[0], -rise[1]];
  return `${lean}; at first they close up on the side toward ${clockDirection(fall, orientation)} and open out on the side toward ${clockDirection(rise, orientation)}`;
}

/** Of one fringe, counted positive. */
const moveWords = (
  { scenario }: Design,
  { perFringe, ...move }: RingMove,
  orientation: CameraOrientation,
): string => bodyMoveWords(scenario, { ...move, along: perFringe }, orientation);

function stopWords({ bias }: DesignedPatch, readable: number, moves: readonly RingMove[]): string {
  const within = moves.map((move) => amountWords(move.kind, move.resolution) + wayOf(move)).join(', ');
  const fringe = `${significant(readable)} fringe`;
  const seen =
    bias === undefined
      ? `The ring is evenly lit all round and from edge to edge, to ${fringe}`
      : `The fringes are those of the aligned picture, to ±${fringe}`;
  return `${seen}: the ${moves[0]!.of} is then within ${within} (standard uncertainty of one reading)`;
}

/** Of a return ring without a bias: what the order of work is content with. */
function enoughWords(design: Design, { bias, reference }: DesignedPatch): string {
  const few = hologramStep(design).done.find(({ of, unit }) => of === 'beam' && unit === 'fringes');
  if (bias !== undefined || few === undefined || !isReadBy(reference, 'alignment')) return '';
  return ` The order of work is content with ${significant(few.within, 2)} straight fringes or fewer.`;
}

const wayOf = ({ kind, perFringe }: RingMove): string =>
  ` ${kind === 'turn' ? 'about' : 'along'} ${axisWords(perFringe)}`;

function countWords(
  { id, outline }: DesignedPatch,
  moves: readonly RingMove[],
  orientation: CameraOrientation,
): Html {
  const { radii } = rulerOf(outline);
  const power = moves.some(({ count }) => RING_COUNTS[count] === 'power');
  return html`<code>{patch: ${id}, fringes: [a, b]${power ? ', power: c' : ''}}</code>: a from edge to edge along x, from ${clockDirection([-1, 0], orientation)} to ${clockDirection([1, 0], orientation)}; b along y, from ${clockDirection([0, -1], orientation)} to ${clockDirection([0, 1], orientation)}${power ? `; c from ${radii[0] === 0 ? 'the middle' : 'the inner edge'} to the outer edge` : ''}. The moves above each show a positive count.`;
}

/** `x 383 µm`, each degree of freedom that shows. */
function rangesOf(motion: ReportedPatch['motion']): readonly string[] {
  if (motion === null) return [];
  return [
    ...Object.entries(motion.readableRange_um).map((range) => [...range, 'µm'] as const),
    ...Object.entries(motion.readableRange_urad).map((range) => [...range, 'µrad'] as const),
  ].flatMap(([degree, range, unit]) =>
    range === null ? [] : [`${degree} ${significant(range, 2)} ${unit}`],
  );
}
