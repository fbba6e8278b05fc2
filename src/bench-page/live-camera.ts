/// <reference lib="dom" />
/** The browser's own camera: its picture as a frame. Grey is the mean of the three colours; the picture is taken as the camera gives it. */
import type { CameraFrame } from '../scenario/camera-frame.ts';
import { button, h, refill } from './dom.ts';

const LEVELS = 255;
/** Asked for nothing, a browser gives 640 × 480 of a larger camera, or scales its picture: fringes are lost in both. */
const MOST = 8192;
const ALL_PIXELS = { width: { ideal: MOST }, height: { ideal: MOST }, resizeMode: 'none' };

export class LiveCamera {
  readonly element = h('div', { class: 'live' });
  readonly button: HTMLButtonElement;
  readonly #taken: (frame: CameraFrame) => void;
  #stream: MediaStream | undefined;
  #isAsking = false;

  constructor(taken: (frame: CameraFrame) => void) {
    this.#taken = taken;
    this.button = button('Use a camera of this computer', () => void this.#start());
  }

  async #start(): Promise<void> {
    if (this.#stream !== undefined) return this.#stop();
    // Pressed again while the browser asks: one camera is enough.
    if (this.#isAsking) return;
    this.#isAsking = true;
    const video = h('video', {
      autoplay: true,
      muted: true,
      playsinline: true,
      'aria-label': 'the camera’s picture',
    });
    try {
      // Where a page from a disk has no right to ask, there is no such object.
      this.#stream = await navigator.mediaDevices.getUserMedia({ video: ALL_PIXELS });
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
    } finally {
      this.#isAsking = false;
    }
    const take = button('Take this picture', () => this.#taken(frameOf(video)), { disabled: true });
    video.addEventListener('loadeddata', () => take.removeAttribute('disabled'));
    video.srcObject = this.#stream;
    refill(
      this.element,
      video,
      h(
        'p',
        { class: 'buttons' },
        take,
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
