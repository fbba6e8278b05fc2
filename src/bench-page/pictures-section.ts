/// <reference lib="dom" />
/** "What does this knob do?": each patch's picture as the knobs are set. Only pictures in view are drawn, once for each frame of the screen; all for print. */
import type { Design, DesignedPatch } from '../design/design.ts';
import { isReadBy } from '../kinds/kinds.ts';
import {
  type GreyPicture,
  nullPicture,
  type PictureWishes,
  patchPicture,
} from '../metrology/camera/fringe-picture.ts';
import type { BenchState } from './bench-state.ts';
import { button, choice, h, refill, section } from './dom.ts';
import { displacementsOf, type Knob, knobGroups } from './knobs.ts';

/** Pixels a side: quick to compute, and enough to count six fringes. */
const SIZE = 96;

/** Each end of a knob's travel: um and urad; of a screw a hundredth of it in turns. */
const RANGES = [3, 10, 30, 100, 300, 1000];
const USUAL = 10;
const TURNS = 0.01;

interface Shown {
  readonly canvas: HTMLCanvasElement;
  readonly draw: (wishes: PictureWishes) => GreyPicture | undefined;
  inView: boolean;
}

interface PicturesSection {
  readonly element: HTMLElement;
  /** ms that the last redraw took, and of how many pictures; for a test. */
  readonly lastRedraw: () => { readonly ms: number; readonly pictures: number };
}

export function picturesSection(
  design: Design,
  state: BenchState,
  chosen: (patch: DesignedPatch) => void,
): PicturesSection {
  const settings = new Map<string, number>();
  const said = h('p', { class: 'error', role: 'status' });
  let last = { ms: 0, pictures: 0 };
  let asked = false;
  const shown: Shown[] = [];
  const paintAll = (pictures: readonly Shown[]): void => {
    const start = performance.now();
    try {
      const wishes = {
        size: SIZE,
        orientation: state.told.orientation,
        displacements: displacementsOf(design, settings),
      };
      for (const { canvas, draw } of pictures) paint(canvas, draw(wishes));
      refill(said);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      refill(said, error.message);
    }
    last = { ms: performance.now() - start, pictures: pictures.length };
  };
  const redraw = (): void => {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      paintAll(shown.filter(({ inView }) => inView));
    });
  };
  // Paper shows them all, also those that were never in view.
  window.addEventListener('beforeprint', () => paintAll(shown));
  const seen = new IntersectionObserver((entries) => {
    for (const { target, isIntersecting } of entries)
      shown.find(({ canvas }) => canvas === target)!.inView = isIntersecting;
    redraw();
  });
  const frame = (words: string, draw: Shown['draw'], act?: () => void): HTMLElement => {
    const canvas = h('canvas', {
      width: SIZE,
      height: SIZE,
      role: 'img',
      'aria-label': `fringes of ${words}`,
    });
    shown.push({ canvas, draw, inView: false });
    seen.observe(canvas);
    const caption =
      act === undefined ? h('span', {}, words) : button(words, act, { title: 'to its reading' });
    return h('figure', {}, canvas, h('figcaption', {}, caption));
  };
  const { main } = design;
  const pictures = [
    ...design.patches.flatMap((patch, k) =>
      isReadBy(patch.reference, 'mark')
        ? []
        : [
            frame(
              `${k + 1} ${patch.id}`,
              (wishes) => patchPicture(design, patch, wishes),
              () => chosen(patch),
            ),
          ],
    ),
    ...(main === undefined ? [] : [frame('M main', (wishes) => nullPicture(design, main, wishes))]),
  ];
  state.onChange(['orientation'], redraw);
  const knobs = knobGroups(design).map((group) => ({
    group,
    knobs: group.knobs.map((knob) => new ShownKnob(knob, settings, redraw)),
  }));
  const all = knobs.flatMap((each) => each.knobs);
  const element = section(
    'pictures',
    'What does this knob do?',
    h(
      'p',
      { class: 'small' },
      'Pictures by ray tracing, as this camera shows them, from the design place on; fringes closer than three pixels of these pictures are not shown truly.',
    ),
    said,
    h('div', { class: 'pictures' }, pictures),
    h(
      'p',
      { class: 'buttons' },
      choice(
        'Travel of the knobs',
        RANGES.map((range) => [String(range), `± ${range} µm, µrad; screws ± ${range * TURNS} turns`]),
        String(USUAL),
        (range) => {
          for (const knob of all) knob.travel(Number(range));
        },
      ),
      button('All to 0', () => {
        for (const knob of all) knob.set(0);
        redraw();
      }),
    ),
    h(
      'div',
      { class: 'knobs' },
      knobs.map(({ group, knobs: own }, k) =>
        h(
          'details',
          { open: k === 0 },
          h('summary', {}, group.title),
          own.map((knob) => knob.element),
        ),
      ),
    ),
  );
  return { element, lastRedraw: () => last };
}

function paint(canvas: HTMLCanvasElement, picture: GreyPicture | undefined): void {
  if (picture === undefined) return;
  const { width, height, grey } = picture;
  if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
  const pixels = new ImageData(width, height);
  for (let i = 0; i < grey.length; i++) {
    pixels.data.fill(grey[i]!, 4 * i, 4 * i + 3);
    pixels.data[4 * i + 3] = 255;
  }
  canvas.getContext('2d')!.putImageData(pixels, 0, 0);
}

/** A slider with its value as a number beside it, for a finger and for the keyboard. */
class ShownKnob {
  readonly element: HTMLElement;
  readonly #knob: Knob;
  readonly #slider: HTMLInputElement;
  readonly #value = h('output');
  readonly #settings: Map<string, number>;

  constructor(knob: Knob, settings: Map<string, number>, changed: () => void) {
    this.#knob = knob;
    this.#settings = settings;
    this.#slider = h('input', {
      type: 'range',
      value: 0,
      input: () => {
        this.set(Number(this.#slider.value));
        changed();
      },
    });
    this.travel(USUAL);
    this.set(0);
    this.element = h(
      'label',
      { class: 'knob' },
      h('span', {}, `${knob.words}, ${knob.unit}`),
      this.#slider,
      this.#value,
    );
  }

  /** Where it stands stays as far as the travel holds it. */
  travel(range: number): void {
    const most = this.#knob.unit === 'turns' ? range * TURNS : range;
    this.#slider.min = String(-most);
    this.#slider.max = String(most);
    this.#slider.step = String(most / STEPS);
    this.set(Number(this.#slider.value));
  }

  set(value: number): void {
    this.#slider.value = String(value);
    this.#settings.set(this.#knob.id, Number(this.#slider.value));
    refill(this.#value, String(Number(Number(this.#slider.value).toPrecision(4))).replace('-', '\u2212'));
  }
}

/** From the middle to the end of a knob. */
const STEPS = 100;
