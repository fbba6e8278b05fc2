/**
 * What the drawing shows of the bench, and at which scale: the overview, and details of the hologram and of the references where
 * those would be too small on it. Both views of a pair share their scale and their range of z. mm of the bench unless it says paper.
 */
import type { Design } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { powerOfTen } from '../../quantity/power.ts';
import { around, boxOf, grown, holds } from '../drawing/boxes.ts';
import type { Box } from '../drawing/drawing.ts';
import { datumMark } from './datum-marks.ts';
import { litRange } from './light-paths.ts';
import { profileOf } from './null-light.ts';
import { PLAN, type Projection, SIDE } from './projection.ts';
import { extremes, type NamedIn, type Thing, thingsOf } from './things.ts';

export interface Window {
  readonly view: Projection;
  readonly things: readonly Thing[];
  readonly box: Box;
}

export interface WindowPair {
  /** What it is for; the things named in it. */
  readonly purpose: NamedIn;
  /** mm of the bench for one mm on paper. */
  readonly scale: number;
  readonly side: Window;
  readonly plan: Window;
}

export interface Windows {
  readonly overview: WindowPair;
  readonly details: readonly WindowPair[];
  /** Whether the overview holds the beam's focus. */
  readonly showsFocus: boolean;
}

/** Room for the overview, and for each view of a detail, mm on paper. */
const OVERVIEW_ROOM: Vec2 = [160, 95];
const DETAIL_ROOMS = { glass: [72, 64], references: [72, 67] } as const;
/** A focus that would make the drawing longer than this many times the rest is left out. */
const LONGEST_FOR_FOCUS = 4;
/** Of the size of what stands there: light drawn before and after it. */
const LEAD = 0.22;
/** On paper, mm: a hologram less high, a reference less wide has a detail, which must be larger by so much. */
const LEAST_HOLOGRAM = 28;
const LEAST_REFERENCE = 2;
const LEAST_GAIN = 2;
/** Of a detail's size: what is above and below it, what is left and right of it, and the least height of either view. */
const AROUND = 0.05;
const ASIDE = 0.45;
const LEAST_HEIGHT = 0.7;
/** A detail of the references grows to this many times its size at most to show all of the part. */
const MOST_FOR_PART = 1.6;
/** Of the size of all else: a datum's point that is not farther off is shown. */
const NEAR = 0.5;

export function windowsOf(design: Design): Windows {
  const views = [SIDE, PLAN].map((view) => ({ view, things: thingsOf(design, view) })) as [Seen, Seen];
  const whole = overviewBoxes(design, views);
  const overview = pairOf('overview', views, whole.boxes, OVERVIEW_ROOM);
  const glass = detail('glass', views, overview, ({ style }) => style === 'glass' || style === 'seat');
  const references = detail('references', views, overview, ({ style }) => style === 'reference');
  const [hologram] = views.map(({ things }) => heightOf(boxAround(things, (one) => one.style === 'glass')!));
  const least = Math.min(
    ...views[0].things.flatMap(({ style, outline }) =>
      style === 'reference' && 'radius' in outline ? [2 * outline.radius] : [],
    ),
  );
  const details = [
    hologram! / overview.scale < LEAST_HOLOGRAM ? glass : undefined,
    least / overview.scale < LEAST_REFERENCE ? references : undefined,
  ].filter((pair) => pair !== undefined && overview.scale / pair.scale >= LEAST_GAIN);
  return { overview, details: details as WindowPair[], showsFocus: whole.showsFocus };
}

interface Seen {
  readonly view: Projection;
  readonly things: readonly Thing[];
}

function overviewBoxes(design: Design, views: readonly [Seen, Seen]) {
  const { beam } = design.scenario.interferometer;
  const content = views.map(({ view, things }): Box => {
    const [low, high] = litRange(design, view.up);
    const origin = view.flat(design.scenario.part.frame.origin);
    const targets = design.patches.flatMap(({ target, distance }) =>
      Number.isFinite(distance) && target[2] > 0 && distance < 1e6 ? [view.flat(target)] : [],
    );
    const tested = design.main === undefined ? [] : profileOf(design.main, view).flat().map(view.flat);
    const box = boxOf([[0, low], [0, high], origin, ...targets, ...tested, ...things.flatMap(extremes)]);
    const near = grown(box, NEAR * Math.max(box.right - box.left, heightOf(box)));
    const { datums, frame } = design.scenario.part;
    const marks = datums
      .map((datum) => datumMark(datum, frame, view, 0))
      .map(({ at, lines }) => boxOf([at, ...lines.flat()]))
      .filter((mark) => holds(near, mark));
    return around([box, ...marks]);
  });
  const [left, right] = [
    Math.min(...content.map((box) => box.left)),
    Math.max(...content.map((box) => box.right)),
  ];
  const size = Math.max(right - left, ...content.map(heightOf));
  const focus = beam.kind === 'collimated' ? undefined : beam.focus;
  const z = focus?.[2] ?? 0;
  const length = Math.max(right, z) - Math.min(left, z);
  const showsFocus = focus !== undefined && length <= LONGEST_FOR_FOCUS * size;
  const lead = LEAD * size;
  const from = beam.kind === 'diverging' && showsFocus ? Math.min(left, z - 0.3 * lead) : left - lead;
  const to = beam.kind === 'converging' && showsFocus ? Math.max(right, z) : right;
  const boxes = content.map((box, k) => {
    const lateral = showsFocus ? [views[k]!.view.flat(focus)[1]] : [];
    return {
      left: from,
      right: to + 0.2 * lead,
      bottom: Math.min(box.bottom, ...lateral),
      top: Math.max(box.top, ...lateral),
    };
  });
  return { boxes, showsFocus };
}

const sizeOf = (boxes: readonly (Box | undefined)[]): number =>
  Math.max(...boxes.flatMap((box) => [box!.right - box!.left, heightOf(box!)]));

const heightOf = ({ bottom, top }: Box): number => top - bottom;

function boxAround(things: readonly Thing[], holds: (thing: Thing) => boolean): Box | undefined {
  const points = things.filter(holds).flatMap(extremes);
  return points.length === 0 ? undefined : boxOf(points);
}

function detail(
  purpose: keyof typeof DETAIL_ROOMS,
  views: readonly [Seen, Seen],
  overview: WindowPair,
  holds: (thing: Thing) => boolean,
): WindowPair | undefined {
  const own = views.map(({ things }) => boxAround(things, holds));
  if (own.some((box) => box === undefined)) return undefined;
  // The part whole, where that makes the detail little larger: what is cut off looks like its end.
  const whole = views.map(({ things }) =>
    boxAround(things, (one) => holds(one) || (purpose === 'references' && one.style === 'part')),
  );
  const boxes = sizeOf(whole) <= MOST_FOR_PART * sizeOf(own) ? whole : own;
  const size = sizeOf(boxes);
  const room = AROUND * size || overview.scale;
  const aside = ASIDE * size || overview.scale;
  return pairOf(
    purpose,
    views,
    boxes.map((box) => grown(box!, aside, Math.max(room, (LEAST_HEIGHT * size - heightOf(box!)) / 2))),
    DETAIL_ROOMS[purpose],
  );
}

/** Boxes at one scale and over one range of z. */
function pairOf(
  purpose: NamedIn,
  [side, plan]: readonly [Seen, Seen],
  boxes: readonly Box[],
  [width, height]: Vec2,
): WindowPair {
  const { left, right } = around(boxes);
  const tallest = Math.max(...boxes.map(heightOf));
  const scale = scaleFor(Math.max((right - left) / width, tallest / height));
  const windowOf = (seen: Seen, box: Box): Window => ({ ...seen, box: { ...box, left, right } });
  return { purpose, scale, side: windowOf(side, boxes[0]!), plan: windowOf(plan, boxes[1]!) };
}

const STEPS = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10] as const;

/** The first round scale that is not larger than asked for. */
function scaleFor(least: number): number {
  const decade = powerOfTen(Math.floor(Math.log10(least) + 1e-9));
  const step = STEPS.find((each) => each * decade >= least * (1 - 1e-9)) ?? 10;
  return Number((step * decade).toPrecision(6));
}
