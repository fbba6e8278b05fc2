/** Bytes gathered into pieces of a useful size for a sink. */
import type { ByteSink } from './layers.ts';

export class ByteBuffer {
  bytes: Uint8Array<ArrayBuffer>;
  view: DataView;
  length = 0;
  readonly #sink: ByteSink;
  readonly #piece: number;

  /** `piece`: bytes handed over at once, about. */
  constructor(sink: ByteSink, piece: number) {
    this.#sink = sink;
    this.#piece = piece;
    this.bytes = new Uint8Array(2 * piece);
    this.view = new DataView(this.bytes.buffer);
  }

  /** Room for so many bytes more, at `length`. */
  reserve(more: number): void {
    if (this.length + more <= this.bytes.length) return;
    const grown = new Uint8Array(2 * (this.length + more));
    grown.set(this.bytes.subarray(0, this.length));
    this.bytes = grown;
    this.view = new DataView(grown.buffer);
  }

  append(bytes: ArrayLike<number>): void {
    this.reserve(bytes.length);
    this.bytes.set(bytes, this.length);
    this.length += bytes.length;
  }

  /** To be called between records: hands over what has gathered once it is a piece. */
  pass(): void {
    if (this.length >= this.#piece) this.flush();
  }

  flush(): void {
    if (this.length === 0) return;
    this.#sink(this.bytes.subarray(0, this.length));
    this.length = 0;
  }
}
