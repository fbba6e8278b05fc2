/**
 * A piece of an edge to take points from, millions of times; mm, radians.
 *
 * Its numbers stand in a typed array: V8 keeps a field that has held only whole numbers as an integer, and throws compiled code away when
 * another patch brings a fraction there.
 */
import type { Piece } from '../geometry/piece.ts';

/** A place on a piece with its derivative by the fraction: what `place` leaves behind, without an object a point. */
export const spot = { x: 0, y: 0, dx: 0, dy: 0 };

export class EdgePiece {
  readonly piece: Piece;
  readonly isArc: boolean;
  /** Of an arc centre, radius, start and sweep; of a segment its start, its run and its end. */
  readonly #numbers: Float64Array;

  constructor(piece: Piece) {
    this.piece = piece;
    this.isArc = piece.kind === 'arc';
    if (piece.kind === 'arc') {
      const { centre, radius, start, sweep } = piece;
      this.#numbers = Float64Array.of(centre[0], centre[1], radius, start, sweep);
    } else {
      const { from, to } = piece;
      this.#numbers = Float64Array.of(from[0], from[1], to[0] - from[0], to[1] - from[1], to[0], to[1]);
    }
  }

  /** Of an arc. */
  get radius(): number {
    return this.#numbers[2]!;
  }

  /** Of an arc, signed. */
  get sweep(): number {
    return this.#numbers[4]!;
  }

  /** The point at a fraction of the piece's length, into `spot`. */
  place(fraction: number): void {
    const numbers = this.#numbers;
    if (!this.isArc) {
      const dx = numbers[2]!;
      const dy = numbers[3]!;
      spot.dx = dx;
      spot.dy = dy;
      spot.x = fraction === 1 ? numbers[4]! : numbers[0]! + fraction * dx;
      spot.y = fraction === 1 ? numbers[5]! : numbers[1]! + fraction * dy;
      return;
    }
    const radius = numbers[2]!;
    const sweep = numbers[4]!;
    const angle = numbers[3]! + fraction * sweep;
    const c = radius * Math.cos(angle);
    const s = radius * Math.sin(angle);
    spot.x = numbers[0]! + c;
    spot.y = numbers[1]! + s;
    spot.dx = -s * sweep;
    spot.dy = c * sweep;
  }
}
