/**
 * The marks of a design, placed: where the scenario wishes them, the others where nothing else is. mm, substrate frame.
 *
 * A mark placed here keeps `substrate.clearance` (0.3 mm at the least) from patterns, keep-outs and seats, `substrate.edgeMargin` from the edge, and stands
 * outside the lit circle where there is room. The first free place by a fixed order of search, so that the same design has the same marks.
 */
import { boundsOf } from '../../geometry/extent.ts';
import type { RectangleOutline } from '../../geometry/outline.ts';
import { distance2, type Vec2 } from '../../geometry/vector.ts';
import type { MarkKind, MarkWishes } from '../../scenario/marks.ts';
import { type Design, patternsOf } from '../design.ts';
import { periodRange } from '../period-range.ts';
import { asymmetryOf } from './asymmetry.ts';
import { DOTS_HIGH, inCapitals, unwritable } from './letters.ts';
import {
  barsForm,
  CROSS,
  crossForm,
  type LineAndSpace,
  type MarkForm,
  orientationForm,
  serialForm,
  textForm,
  toNm,
} from './mark-forms.ts';
import { besidePatch } from './patch-numbers.ts';
import { boxAt, MARK_GAP, type Room, roomOf } from './room.ts';

export interface Mark {
  readonly kind: MarkKind;
  /** As lists name it: `F1`, `orientation`, `patch 3`. */
  readonly name: string;
  /** What is lettered; empty for a mark without letters of its own. */
  readonly text: string;
  readonly at: Vec2;
  /** Around all of it. */
  readonly box: RectangleOutline;
  readonly form: MarkForm;
  /** Where the program placed it. */
  readonly placed: boolean;
}

interface MissingMark {
  readonly kind: MarkKind;
  readonly name: string;
  readonly why: 'no room' | 'no number' | 'no letters';
  /** Letters that there are no forms for. */
  readonly letters: string;
}

export interface Marks {
  readonly marks: readonly Mark[];
  readonly missing: readonly MissingMark[];
}

/** A dot of letters that are read by eye, about 1 mm high, and those tried where there is no room. Common practice, no source. */
const DOTS = [0.15, 0.1, 0.07] as const;

/** Where each is wished, as an angle from the glass's middle: three crosses at a quarter turn each, the fourth off it. */
const CROSSES = [45, 135, 225, 292.5] as const;
const ANGLES = { orientation: 0, drawing: 270, side: 90, serial: 247.5, bars: 180 } as const;

const known = new WeakMap<Design, Marks>();

/** None where the scenario asks for none. Placed once a design: rules, files and report all ask for them. */
export function marksOf(design: Design): Marks {
  const marks = known.get(design) ?? new Placing(design).all();
  known.set(design, marks);
  return marks;
}

class Placing {
  readonly #design: Design;
  readonly #room: Room;
  readonly #marks: Mark[] = [];
  readonly #missing: MissingMark[] = [];
  readonly #mirrored: boolean;

  constructor(design: Design) {
    this.#design = design;
    this.#room = roomOf(design);
    this.#mirrored = design.scenario.substrate.patternFaces === 'interferometer';
  }

  all(): Marks {
    const wishes = this.#design.scenario.marks;
    if (wishes === undefined) return { marks: [], missing: [] };
    // Those with a place of their own first: the others make room for them.
    for (const isGiven of [true, false]) {
      this.#fiducials(wishes, isGiven);
      const dots = this.#dots(wishes);
      const mirrored = this.#mirrored;
      this.#one('orientation', wishes, isGiven, '', dots, (dot) => orientationForm(dot, mirrored));
      if (!isGiven) this.#patchNumbers(wishes, dots);
      this.#drawing(wishes, isGiven, dots);
      const side = 'HOLOGRAM SIDE';
      this.#one('side', wishes, isGiven, side, dots, (dot) => textForm(side, dot, mirrored));
      this.#one('serial', wishes, isGiven, 'S/N', dots, (dot) => serialForm(dot, mirrored));
      const { minFeature } = this.#design.scenario.process;
      const pairs = measuredWidths(this.#design);
      this.#one('bars', wishes, isGiven, '', [0], () => barsForm(pairs, minFeature, mirrored));
    }
    return { marks: this.#marks, missing: this.#missing };
  }

  /** Widths of a dot to try, the largest first; a height that the scenario gives is kept to. */
  #dots({ height }: MarkWishes): readonly number[] {
    if (height !== undefined) return [toNm(height / DOTS_HIGH)];
    const { minFeature } = this.#design.scenario.process;
    return [...new Set(DOTS.map((dot) => toNm(Math.max(dot, minFeature))))];
  }

  #take(kind: MarkKind, name: string, text: string, form: MarkForm, at: Vec2, placed: boolean): void {
    const box = boxAt(at, form);
    this.#marks.push({ kind, name, text, at, box, form, placed });
    this.#room.take(box, MARK_GAP);
  }

  #miss(kind: MarkKind, name: string, why: MissingMark['why'] = 'no room', letters = ''): void {
    this.#missing.push({ kind, name, why, letters });
  }

  #fiducials({ fiducials }: MarkWishes, isGiven: boolean): void {
    if (fiducials === 'none' || (fiducials !== 'auto') !== isGiven) return;
    const form = crossForm(this.#design.scenario.process.minFeature);
    if (fiducials !== 'auto') {
      for (const [k, at] of fiducials.entries()) this.#take('fiducials', `F${k + 1}`, '', form, at, false);
      return;
    }
    const glass = this.#design.scenario.substrate.outline;
    const placed: Vec2[] = [];
    for (const [k, angle] of CROSSES.entries()) {
      const isLast = k === CROSSES.length - 1;
      const accepts = ({ centre }: RectangleOutline): boolean =>
        !isLast || asymmetryOf([...placed, centre], glass) > CROSS;
      const at = this.#placeFor(form, angle, accepts);
      const name = `F${k + 1}`;
      if (at === undefined) {
        this.#miss('fiducials', name);
        continue;
      }
      placed.push(at);
      this.#take('fiducials', name, '', form, at, true);
    }
  }

  #drawing(wishes: MarkWishes, isGiven: boolean, dots: readonly number[]): void {
    const { drawing } = this.#design.scenario;
    const revision = drawing?.revision ? ` REV ${drawing.revision}` : '';
    const text = inCapitals(`${drawing?.number ?? ''}${revision}`);
    const wished = wishes.drawing !== 'none' && (wishes.drawing !== 'auto') === isGiven;
    const letters = unwritable(text).join(' ');
    if (!drawing?.number || letters !== '') {
      if (wished) this.#miss('drawing', 'drawing', letters === '' ? 'no number' : 'no letters', letters);
      return;
    }
    this.#one('drawing', wishes, isGiven, text, dots, (dot) => textForm(text, dot, this.#mirrored));
  }

  #one(
    kind: keyof typeof ANGLES,
    wishes: MarkWishes,
    isGiven: boolean,
    text: string,
    dots: readonly number[],
    formOf: (dot: number) => MarkForm,
  ): void {
    const wish = wishes[kind];
    if (wish === 'none' || (wish !== 'auto') !== isGiven) return;
    if (wish !== 'auto') {
      this.#take(kind, kind, text, formOf(dots[0]!), wish[0]!, false);
      return;
    }
    for (const dot of dots) {
      const form = formOf(dot);
      const at = this.#placeFor(form, ANGLES[kind]);
      if (at === undefined) continue;
      this.#take(kind, kind, text, form, at, true);
      return;
    }
    this.#miss(kind, kind);
  }

  /** Nearest to the glass's edge at an angle in degrees, outside the lit circle if anywhere. */
  #placeFor(
    form: MarkForm,
    angle: number,
    accepts: (box: RectangleOutline) => boolean = () => true,
  ): Vec2 | undefined {
    const { minX, maxX, minY, maxY } = boundsOf(this.#design.scenario.substrate.outline);
    const turn = (angle * Math.PI) / 180;
    const wished: Vec2 = [
      (minX + maxX) / 2 + ((maxX - minX) / 2) * Math.cos(turn),
      (minY + maxY) / 2 + ((maxY - minY) / 2) * Math.sin(turn),
    ];
    const dark = (box: RectangleOutline): boolean => this.#isDark(box);
    return (
      this.#room.nearest(form, wished, accepts, undefined, dark) ?? this.#room.nearest(form, wished, accepts)
    );
  }

  #isDark({ centre, width, height }: RectangleOutline): boolean {
    const { centre: lit, radius } = this.#design.beam;
    if (radius === undefined) return false;
    const dx = Math.max(0, Math.abs(centre[0] - lit[0]) - width / 2);
    const dy = Math.max(0, Math.abs(centre[1] - lit[1]) - height / 2);
    return distance2([dx, dy], [0, 0]) >= radius;
  }

  #patchNumbers({ patches }: MarkWishes, dots: readonly number[]): void {
    if (patches === 'none') return;
    for (const { pattern, number } of patternsOf({ patches: this.#design.patches })) {
      const name = `patch ${number}`;
      const form = dots.map((dot) => textForm(number, dot, this.#mirrored));
      const found = besidePatch(this.#design, pattern, form, this.#room);
      if (found === undefined) this.#miss('patches', name);
      else this.#take('patches', name, number, found.form, found.at, true);
    }
  }
}

/**
 * The widths that the bars have: a line and a space at the least feature, and those of the smallest period of the finest and of the coarsest
 * pattern where they can be written.
 */
function measuredWidths(design: Design): readonly LineAndSpace[] {
  const { minFeature, dutyCycle } = design.scenario.process;
  const periods = patternsOf(design).map(({ pattern }) => periodRange(pattern).min);
  const pairs = [Math.min(...periods), Math.max(...periods)]
    .filter(Number.isFinite)
    .map((period): LineAndSpace => {
      const line = toNm(dutyCycle * period);
      return { line, space: toNm(period - line) };
    })
    .filter(({ line, space }) => Math.min(line, space) >= minFeature);
  const least = toNm(minFeature);
  const all = [{ line: least, space: least }, ...pairs];
  const named = new Map(all.map((pair) => [`${pair.line} ${pair.space}`, pair]));
  return [...named.values()];
}
