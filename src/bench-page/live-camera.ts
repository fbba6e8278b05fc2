/// <reference lib="dom" />
/** The browser's own camera: its picture as a frame. Grey is the mean of the three colours; the picture is taken as the camera gives it. */
import type { CameraFrame } from '../scenario/camera-frame.ts';
import { button, h, refill } from './dom.ts';

const LEVELS = 255;

export class LiveCamera {
  readonly element = h('div', { class: 'live' });
  readonly button: HTMLButtonElement;
  readonly #taken: (frame: CameraFrame) => void;
  #stream: MediaStream | undefined;

  constructor(taken: (frame: CameraFrame) => void) {
    this.#taken = taken;
    this.button = button('Use a camera of this computer', () => void this.#start());
  }

  async #start(): Promise<void> {
    if (this.#stream !== undefined) return this.#stop();
    const video = h('video', {
      autoplay: true,
      muted: true,
      playsinline: true,
      'aria-label': 'the camera’s picture',
    });
    try {
      // Where a page from a disk has no right to ask, there is no such object.
      this.#stream = await navigator.mediaDevices.getUserMedia({ video: true });
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      refill(
        this.element,
        h(
          'p',
          { class: 'error' },
          `The browser gives no camera: ${why}. Save frames as files and open those.`,
        ),
      );
      return;
    }
    video.srcObject = this.#stream;
    refill(
      this.element,
      video,
      h(
        'p',
        { class: 'buttons' },
        button('Take this picture', () => this.#taken(frameOf(video))),
        button('Stop the camera', () => this.#stop()),
      ),
    );
  }

  #stop(): void {
    for (const track of this.#stream?.getTracks() ?? []) track.stop();
    this.#stream = undefined;
    refill(this.element);
  }
}

function frameOf(video: HTMLVideoElement): CameraFrame {
  const { videoWidth: width, videoHeight: height } = video;
  const context = h('canvas', { width, height }).getContext('2d', { willReadFrequently: true })!;
  context.drawImage(video, 0, 0);
  const { data } = context.getImageData(0, 0, width, height);
  const values = new Float32Array(width * height);
  for (let i = 0; i < values.length; i++)
    values[i] = (data[4 * i]! + data[4 * i + 1]! + data[4 * i + 2]!) / (3 * LEVELS);
  return { width, height, values, holds: 'intensity', levels: LEVELS };
}
