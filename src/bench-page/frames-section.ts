/// <reference lib="dom" />
/**
 * Frames of the camera by drop, paste, file or the browser's own camera, read as the command `read` reads them. What is sure goes into the
 * rows that are not filled in by hand; the rest is said, with what to do.
 */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import type { PatchGiven } from '../metrology/frame/read-patch.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { readBench } from '../reading/bench/read-bench.ts';
import {
  FRAME_UNITS,
  type FrameContext,
  type FrameUnit,
  MOST_PAGES,
} from '../reading/frames/frame-source.ts';
import { type ReadFrame, readFrame } from '../reading/frames/read-frame.ts';
import type { CameraFrame } from '../scenario/camera-frame.ts';
import { isSameOrientation } from '../scenario/camera-orientation.ts';
import { isSure } from '../writing/frame/fault-words.ts';
import type { TakenFile } from '../writing/frame/frame-report.ts';
import { frameText } from '../writing/frame/frame-text.ts';
import { notTogether, type PictureRead, pictureRead } from '../writing/frame/picture-read.ts';
import { roundedReading } from '../writing/frame/rounded-reading.ts';
import { orientationWords } from '../writing/page/orientation-words.ts';
import type { BenchState } from './bench-state.ts';
import { button, choice, h, preformatted, refill, section } from './dom.ts';
import { fileFindingLine } from './finding-line.ts';
import { shownFrame } from './frame-picture.ts';
import { contentOf } from './given-file.ts';
import { LiveCamera } from './live-camera.ts';
import { fieldsOf } from './reading-rows.ts';

const STEPS: Readonly<Record<string, PatchGiven['stepping']>> = {
  'one frame': undefined,
  longer: 1,
  shorter: -1,
  unknown: 'unknown',
};

export class FramesSection {
  readonly element: HTMLElement;
  readonly #design: Design;
  readonly #state: BenchState;
  readonly #said = h('div', { role: 'status' });
  readonly #shown = h('div');
  #steps: keyof typeof STEPS = 'one frame';
  #unit: FrameUnit | undefined;
  #belowBias = false;
  /** To be decoded again when their numbers are said to be something else. */
  #files: readonly File[] = [];
  /** Counts what was opened or taken: decoding that ends after the operator went on to something else is of no more use. */
  #opened = 0;
  #taken: readonly TakenFile[] = [];
  /** Of the camera and of the rounds, when the rows were filled. */
  #asRead: BenchState['told'];

  constructor(design: Design, state: BenchState) {
    this.#design = design;
    this.#state = state;
    const input = h('input', {
      type: 'file',
      multiple: true,
      accept: '.png,.tif,.tiff,.pgm,.npy,.csv,.txt',
      class: 'hidden-file',
      tabindex: -1,
      'aria-label': 'files of frames',
      change: () => {
        void this.open([...(input.files ?? [])]);
        input.value = '';
      },
    });
    const camera = new LiveCamera((frame) => {
      this.#goOnFrom([]);
      this.#take([{ file: 'camera', form: 'picture of the browser’s camera', frames: [frame] }]);
    });
    const bias = h('input', {
      type: 'checkbox',
      change: () => {
        this.#belowBias = bias.checked;
        this.#read();
      },
    });
    const drop = h(
      'div',
      { class: 'drop' },
      h(
        'p',
        {},
        'Drop frames here, or paste one: PNG, TIFF, PGM, .npy or a grid of numbers; several for phase steps. A bench file says how the camera is turned and where its picture has the beam; a session file goes on from its last round.',
      ),
      h(
        'p',
        { class: 'buttons' },
        button('Open frames', () => input.click()),
        camera.button,
        input,
      ),
    );
    this.element = section(
      'frames',
      'Frames of the camera',
      drop,
      camera.element,
      h(
        'p',
        { class: 'buttons' },
        choice(
          'From frame to frame the path of the return gets',
          Object.keys(STEPS).map((words) => [words, words]),
          this.#steps,
          (words) => {
            this.#steps = words;
            this.#read();
          },
        ),
        choice(
          'Fractional numbers are',
          [['', 'none, or fractions of full scale'], ...FRAME_UNITS.map((unit) => [unit, unit] as const)],
          '',
          (unit) => {
            this.#unit = unit === '' ? undefined : (unit as FrameUnit);
            void this.open(this.#files);
          },
        ),
        h('label', { class: 'tick' }, bias, 'no patch with a tilt bias is off by more than its bias'),
      ),
      this.#said,
      this.#shown,
    );
    this.#asRead = state.told;
    state.onChange(['orientation', 'isStated', 'place', 'rounds'], () => this.#keepUp());
  }

  async open(files: readonly File[]): Promise<void> {
    if (files.length === 0) return;
    const opened = this.#goOnFrom(files);
    const context = { unit: this.#unit, wavelength: this.#design.light.wavelength * NM_PER_MM };
    const taken: TakenFile[] = [];
    const findings: Finding[] = [];
    for (const file of files) {
      const decoded = await decodedFrames(file, context);
      if ('finding' in decoded) findings.push(decoded.finding);
      else taken.push({ file: file.name, ...decoded });
    }
    if (opened !== this.#opened) return;
    const apart = findings.length > 0 ? undefined : notTogether(taken, MOST_PAGES);
    if (apart !== undefined) findings.push(apart);
    if (findings.length === 0) this.#take(taken);
    else {
      refill(this.#said, findings.map(fileFindingLine));
      refill(this.#shown);
      this.#forget();
    }
  }

  /** The number of this opening. */
  #goOnFrom(files: readonly File[]): number {
    this.#files = files;
    this.#opened++;
    return this.#opened;
  }

  /** The text of a bench file: how the camera is turned, and where its picture has the beam. */
  takeBench(text: string, name: string): void {
    const { camera, place, findings } = readBench(text, name);
    if (findings.length > 0) {
      refill(this.#said, findings.map(fileFindingLine));
      return;
    }
    const orientation = { ...this.#state.told.orientation, ...camera };
    const isStated = this.#state.told.isStated || Object.keys(camera).length > 0;
    this.#state.change({ orientation, isStated, ...(place === undefined ? {} : { place }) });
    if (this.#taken.length > 0) return;
    // A frame in which nothing was found is looked at again.
    if (this.#files.length > 0) void this.open(this.#files);
    else refill(this.#said, `${name} is taken: ${orientationWords(orientation)}. Now drop the frame.`);
  }

  #take(taken: readonly TakenFile[]): void {
    this.#taken = taken;
    this.#read();
  }

  #read(): void {
    if (this.#taken.length === 0) return;
    const stepping = STEPS[this.#steps];
    const { orientation, isStated, place } = this.#state.told;
    const read = pictureRead(
      this.#design,
      this.#taken,
      { ...(stepping === undefined ? {} : { stepping }), ...(this.#belowBias ? { belowBias: true } : {}) },
      { orientation: isStated ? orientation : undefined, ...(place === undefined ? {} : { place }) },
    );
    refill(this.#said, read.findings.map(fileFindingLine));
    refill(this.#shown);
    if (!('picture' in read)) {
      this.#forget();
      return;
    }
    this.#fill(read);
    const [first] = this.#taken.flatMap(({ frames }): readonly CameraFrame[] => frames);
    refill(
      this.#shown,
      shownFrame(first!, read.picture.reading),
      preformatted(frameText(this.#design, read.picture).trimEnd()),
    );
  }

  /** A frame is read along senses by the camera's orientation, and for one round. */
  #keepUp(): void {
    const { orientation, isStated, place, rounds } = this.#state.told;
    const was = this.#asRead;
    this.#asRead = this.#state.told;
    if (rounds !== was.rounds) {
      this.#goOnFrom([]);
      this.#taken = [];
      refill(this.#said);
      refill(this.#shown);
    } else if (
      !isSameOrientation(orientation, was.orientation) ||
      isStated !== was.isStated ||
      place !== was.place
    ) {
      if (this.#taken.length > 0) this.#read();
      else this.#forget();
    }
  }

  /** What an earlier frame said is not of this setting. */
  #forget(): void {
    this.#taken = [];
    const byHand = [...this.#state.told.entries].filter(([, { from }]) => from === 'hand');
    this.#state.change({ entries: new Map(byHand) });
  }

  /** Rows by hand stay; what an earlier frame said goes. */
  #fill({ picture: { reading } }: PictureRead): void {
    const { entries, orientation } = this.#state.told;
    const next = new Map([...entries].filter(([, { from }]) => from === 'hand'));
    for (const patch of reading.patches.filter(isSure)) {
      const rounded = roundedReading(patch);
      if (rounded === undefined) continue;
      const { key, fields } = fieldsOf(rounded);
      if (!next.has(key)) next.set(key, { fields, from: 'frame' });
    }
    const found = reading.map.orientation;
    const same = isSameOrientation(found, orientation);
    this.#asRead = { ...this.#state.told, orientation: found };
    this.#state.change({ entries: next, ...(same ? {} : { orientation: found }) });
  }
}

async function decodedFrames(file: File, context: FrameContext): Promise<ReadFrame> {
  const given = await contentOf(file, (all) => all.arrayBuffer());
  return 'finding' in given ? given : readFrame(new Uint8Array(given.content), file.name, context);
}
