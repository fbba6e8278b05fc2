/**
 * The vertices of all zones of a window that touch a ridge, as rings of nodes that joining links anew (join-at-ridge.ts); mm. In typed arrays, used
 * again for each window: a pattern has millions of them.
 */
import type { Line } from './cut-region.ts';
import type { WrittenZone } from './region-zones.ts';
import type { ZoneOutline } from './zone-outline.ts';

/** Vertices this near to the ridge stand on it: ten times ON_LINE, by which it is cut. */
const ON_RIDGE = 1e-9;
/** Vertices that there is room for at first. */
const ROOM = 1 << 16;

export class RidgeNodes {
  #ridge: Line = { at: [0, 0], along: [1, 0] };
  #xy = new Float64Array(2 * ROOM);
  /** Of each node the ones that follow and come before it. */
  next = new Int32Array(ROOM);
  before = new Int32Array(ROOM);
  /** Of each vertex of the zone that was asked about last, whether it stands on the ridge. */
  #on = new Uint8Array(ROOM);
  #used = 0;

  /** To be given back by `release` when its patch is done. */
  static of(ridge: Line): RidgeNodes {
    const nodes = idle.pop() ?? new RidgeNodes();
    nodes.#ridge = ridge;
    return nodes;
  }

  release(): void {
    idle.push(this);
  }

  clear(): void {
    this.#used = 0;
  }

  /** Whether a vertex stands on the ridge; which, says `on` until the next zone. */
  touchedBy({ xy, count }: WrittenZone): boolean {
    const { at, along } = this.#ridge;
    const [x0, y0] = at;
    const [ux, uy] = along;
    if (this.#on.length < count) this.#on = new Uint8Array(2 * count);
    const on = this.#on;
    let touches = 0;
    for (let k = 0; k < count; k++) {
      const height = ux * (xy[2 * k + 1]! - y0) - uy * (xy[2 * k]! - x0);
      on[k] = Math.abs(height) <= ON_RIDGE ? 1 : 0;
      touches |= on[k]!;
    }
    return touches === 1;
  }

  on(vertex: number): boolean {
    return this.#on[vertex] === 1;
  }

  /** A zone's vertices as a ring; returns the node of the first. */
  addRing({ xy, count }: WrittenZone): number {
    const start = this.#used;
    this.#used += count;
    this.#makeRoom();
    const { next, before } = this;
    this.#xy.set(xy.subarray(0, 2 * count), 2 * start);
    for (let node = start; node < this.#used; node++) {
      next[node] = node + 1;
      before[node] = node - 1;
    }
    next[this.#used - 1] = start;
    before[start] = this.#used - 1;
    return start;
  }

  /** The ring that a node is part of. */
  outlineOf(start: number, outline: ZoneOutline): void {
    outline.clear();
    let node = start;
    do {
      outline.add(this.#xy[2 * node]!, this.#xy[2 * node + 1]!);
      node = this.next[node]!;
    } while (node !== start);
  }

  alongOf(node: number): number {
    const { at, along } = this.#ridge;
    return along[0] * (this.#xy[2 * node]! - at[0]) + along[1] * (this.#xy[2 * node + 1]! - at[1]);
  }

  connect(from: number, to: number): void {
    this.next[from] = to;
    this.before[to] = from;
  }

  #makeRoom(): void {
    if (this.#used <= this.next.length) return;
    const room = 2 * this.#used;
    this.#xy = grown(this.#xy, new Float64Array(2 * room));
    this.next = grown(this.next, new Int32Array(room));
    this.before = grown(this.before, new Int32Array(room));
  }
}

function grown<A extends Float64Array | Int32Array>(from: A, into: A): A {
  into.set(from);
  return into;
}

/** Of patches that are done, for the next: some 20 MB each. */
const idle: RidgeNodes[] = [];
