/** What a layout format must be able to write, in the order it must be asked to; coordinates in database units. */
import type { PatternLayer } from './layers.ts';

export type { ByteSink } from '../manifest.ts';

export interface LayoutStream {
  beginCell(name: string): void;
  /** x, y by turns, `count` vertices (3 or more), counterclockwise, the closing side implied, no vertex like the one before. */
  polygon(layer: PatternLayer, points: Int32Array, count: number): void;
  /** A cell written before, unturned, at the origin. */
  place(cell: string): void;
  endCell(): void;
  /** Ends the file and hands over the last bytes. */
  end(): void;
}
