/// <reference lib="dom" />
/**
 * The hologram as this camera shows it, and which way the camera is turned: stated in words, or found by covering two patches and
 * pointing at where the picture goes dark.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { isReadBy } from '../kinds/kinds.ts';
import { apertureWindow } from '../metrology/camera/fringe-picture-window.ts';
import { orientationOf } from '../metrology/camera/orientation-check.ts';
import { orientationsSeen, type SeenPatch, seenAt } from '../metrology/camera/orientation-from-patches.ts';
import {
  type CameraOrientation,
  isSameOrientation,
  TURNS,
  toPicture,
  VIEWS,
} from '../scenario/camera-orientation.ts';
import { axesWords, orientationWords } from '../writing/page/orientation-words.ts';
import { operatorView, outlinePath, viewKey } from '../writing/sheet/operator-view.ts';
import type { BenchState } from './bench-state.ts';
import { button, choice, drawn, h, refill, section, setAttribute } from './dom.ts';

const SVG = 'http://www.w3.org/2000/svg';

/** `chosen`: what a patch of the drawing does when nothing is being asked for. */
export function hologramSection(
  design: Design,
  state: BenchState,
  chosen: (patch: DesignedPatch) => void,
): HTMLElement {
  const view = h('figure', { class: 'view' });
  const words = h('p');
  const stated = h('div', { class: 'choices' });
  const asking = new Asking(design, state);
  const draw = (): void => {
    const { orientation } = state.told;
    const svg = drawn(operatorView(design, orientation).text);
    for (const [k, patch] of design.patches.entries())
      svg.append(patchButton(patch, k, orientation, () => asking.pointAt(patch) || chosen(patch)));
    svg.addEventListener('click', (event) => {
      if (event.target instanceof SVGElement && event.target.classList.contains('patch')) return;
      const at = placeUnder(svg, event, design, orientation);
      if (at !== undefined) asking.seen(at);
    });
    // Its parts are buttons: a picture would hide them.
    svg.setAttribute('role', 'group');
    refill(view, svg);
    refill(words, `As the camera shows it: ${orientationWords(orientation)}; ${axesWords(orientation)}.`);
    const set = (part: Partial<CameraOrientation>): void =>
      state.change({ orientation: { ...state.told.orientation, ...part }, isStated: true });
    refill(
      stated,
      choice(
        'Seen from',
        VIEWS.map((side) => [side, side === 'part' ? 'the part' : 'the interferometer']),
        orientation.view,
        (side) => set({ view: side as CameraOrientation['view'] }),
      ),
      choice(
        'Turned clockwise',
        TURNS.map((turn) => [String(turn), `${turn}°`]),
        String(orientation.turned),
        (turn) => set({ turned: Number(turn) as CameraOrientation['turned'] }),
      ),
      choice(
        'Mirrored left to right',
        [
          ['no', 'no'],
          ['yes', 'yes'],
        ],
        orientation.mirrored ? 'yes' : 'no',
        (is) => set({ mirrored: is === 'yes' }),
      ),
    );
  };
  state.onChange(['orientation'], draw);
  const key = h('details', {}, h('summary', {}, 'Numbers and letters'));
  key.append(new DOMParser().parseFromString(viewKey(design).text, 'text/html').body.firstElementChild!);
  return section(
    'hologram',
    'The hologram as this camera shows it',
    words,
    stated,
    view,
    h('p', { class: 'small' }, howToTell(design)),
    asking.element,
    key,
  );
}

function howToTell(design: Design): string {
  const { settledBy, alike } = orientationOf(design);
  if (settledBy === 'outlines')
    return 'The lit outlines differ in all eight orientations: compare the camera’s picture with the drawing.';
  return `The lit outlines look the same in ${alike.length + 1} of the eight orientations. The drawing alone does not show which one the camera has.`;
}

function patchButton(
  patch: DesignedPatch,
  k: number,
  orientation: CameraOrientation,
  act: () => void,
): SVGPathElement {
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', outlinePath(patch.outline, orientation));
  path.setAttribute('class', 'patch');
  path.setAttribute('role', 'button');
  path.setAttribute('tabindex', '0');
  setAttribute(path, 'aria-label', `patch ${k + 1}, ${patch.id}`);
  path.addEventListener('click', act);
  path.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' && event.key !== ' ') return;
    event.preventDefault();
    act();
  });
  return path;
}

/** From the picture's centre, right and up, mm: the drawing has the pattern's origin for its own. */
function placeUnder(
  svg: SVGSVGElement,
  { clientX, clientY }: MouseEvent,
  design: Design,
  orientation: CameraOrientation,
): readonly [number, number] | undefined {
  const matrix = svg.getScreenCTM();
  if (matrix === null) return undefined;
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(matrix.inverse());
  const [right, up] = toPicture(orientation, apertureWindow(design, 1).centre);
  return [x - right, -y - up];
}

/** "I cover this patch: there the picture goes dark", twice. */
class Asking {
  readonly element = h('div', { class: 'asking' });
  readonly #design: Design;
  readonly #state: BenchState;
  readonly #able: readonly DesignedPatch[];
  #covered: DesignedPatch | undefined;
  #seen: readonly SeenPatch[] = [];
  #said = '';

  constructor(design: Design, state: BenchState) {
    this.#design = design;
    this.#state = state;
    this.#able = design.patches.filter(({ reference }) => !isReadBy(reference, 'mark'));
    this.#show();
  }

  /** Whether a patch was being asked for: the one that stands in the drawing where the picture goes dark. */
  pointAt(patch: DesignedPatch): boolean {
    if (this.#covered === undefined) return false;
    this.seen(seenAt(this.#design, patch.centre, this.#state.told.orientation));
    return true;
  }

  seen(at: readonly [number, number]): void {
    if (this.#covered === undefined) return;
    this.#seen = [...this.#seen, { patch: this.#covered, at }];
    const fits = orientationsSeen(this.#design, this.#seen);
    if (fits.length === 0)
      this.#end('No orientation shows the patches there. Begin again, and check which patch you cover.');
    else if (fits.length === 1) {
      const [only] = fits;
      const same = isSameOrientation(only!, this.#state.told.orientation);
      this.#end(`${same ? 'As stated' : 'Found'}: the camera’s picture is ${orientationWords(only!)}.`);
      this.#state.change({ isStated: true, ...(same ? {} : { orientation: only! }) });
    } else {
      this.#said = `${fits.length} orientations show that. Cover another patch, away from a line through the centre and the first one.`;
      this.#covered = this.#next(fits);
      this.#show();
    }
  }

  /** The patch that tells most of what is left apart. */
  #next(left: readonly CameraOrientation[]): DesignedPatch | undefined {
    const used = new Set(this.#seen.map(({ patch }) => patch));
    const counts = this.#able
      .filter((patch) => !used.has(patch))
      .map((patch) => {
        const alike = left.map(
          (orientation) =>
            orientationsSeen(this.#design, [
              { patch, at: seenAt(this.#design, patch.centre, orientation) },
            ]).filter((one) => left.includes(one)).length,
        );
        return { patch, most: Math.max(...alike) };
      });
    return counts.toSorted((a, b) => a.most - b.most)[0]?.patch;
  }

  #end(said: string): void {
    this.#said = said;
    this.#covered = undefined;
    this.#seen = [];
    this.#show();
  }

  #show(): void {
    const covered = this.#covered;
    const said = h('p', { role: 'status' }, this.#said);
    if (covered === undefined) {
      const begin = (): void => {
        this.#said = '';
        this.#covered = this.#able[0];
        this.#show();
      };
      refill(this.element, said, button('Find it by covering two patches', begin));
      return;
    }
    const cover = choice(
      'I cover with a card patch',
      this.#able.map((patch) => [patch.id, `${this.#design.patches.indexOf(patch) + 1} ${patch.id}`]),
      covered.id,
      (id) => {
        this.#covered = this.#able.find((patch) => patch.id === id);
      },
    );
    refill(
      this.element,
      said,
      cover,
      h('p', {}, 'Now choose in the drawing the place at which the camera’s picture goes dark.'),
      button('Stop', () => this.#end('')),
    );
  }
}
