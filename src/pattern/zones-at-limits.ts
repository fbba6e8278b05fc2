/**
 * Written zones that meet a corner of a region's edge or an extreme of Φ along it: outlines put together by walking the edge.
 *
 * The edge is followed counterclockwise. Inside a zone it is left where Φ rises through the zone's upper level, along that
 * fringe with the zone on the left (higher Φ on the right), or where Φ falls through the lower level, along that fringe
 * backward; where the fringe meets the edge again the walk goes on, until it is back at its start.
 */
import type { Bands, Pair } from './bands.ts';
import type { Offsets } from './bundle-ends.ts';
import { FringeEdge, type FringeEdgeMaker, type WrittenEnd } from './fringe-edge.ts';
import type { Region } from './regions.ts';
import type { ZoneOutline } from './zone-outline.ts';

interface Fringe {
  readonly edge: FringeEdge;
  readonly pair: Pair;
  readonly upper: boolean;
  used: boolean;
}
/** Where a fringe meets the edge: by run and fraction of its piece, of the fringe itself and of its edge as written. */
interface Gate {
  readonly fringe: Fringe;
  /** The walk along the edge leaves it here for the fringe; at the other gates it comes back. */
  readonly leaves: boolean;
  readonly run: number;
  readonly fraction: number;
  readonly placed: WrittenEnd;
}

interface ZoneLevels {
  readonly from: number;
  readonly to: number;
}

/** The parts of one zone, from ≤ Φ < to, in a region: each stands in `outline` when it is yielded. */
export function* zonesAtLimits(
  region: Region,
  bands: Bands,
  maker: FringeEdgeMaker,
  { from, to }: ZoneLevels,
  offsets: Offsets,
  tolerance: number,
  outline: ZoneOutline,
): Generator<void> {
  const fringes: Fringe[] = [];
  for (const level of [from, to])
    for (const pair of bands.pairsIn(bands.bandOf(level))) {
      const fringe = { edge: new FringeEdge(), pair, upper: level === to, used: false };
      maker.make(level, pair, fringe.upper ? offsets.upper : offsets.lower, fringe.edge);
      fringes.push(fringe);
    }
  if (fringes.length === 0) {
    const value = region.runs[0]!.start;
    if (value < from || value >= to) return;
    outline.clear();
    for (const run of region.runs) {
      outline.addPlace(run.edge, run.from);
      outline.addAlong(run.edge, run.from, run.to, tolerance);
    }
    yield;
    return;
  }
  const gates = fringes.flatMap(gatesOf);
  gates.sort((a, b) => a.run - b.run || a.fraction - b.fraction);
  for (const first of fringes) {
    if (first.used) continue;
    outline.clear();
    for (let fringe = first; !fringe.used; ) {
      fringe.used = true;
      outline.addVertices(fringe.edge.vertices, fringe.edge.count, fringe.upper ? 1 : -1);
      const back = gates.findIndex((gate) => gate.fringe === fringe && !gate.leaves);
      const next = gates[(back + 1) % gates.length]!;
      if (!next.leaves)
        throw new RangeError(`the edge of the patch meets the zone from ${from} to ${to} waves out of turn`);
      const passed = passedBetween(region, gates[back]!, next);
      appendEdge(region, gates[back]!.placed, next.placed, passed, tolerance, outline);
      fringe = next.fringe;
    }
    yield;
  }
}

function gatesOf(fringe: Fringe): Gate[] {
  const { edge, pair, upper } = fringe;
  return [
    { fringe, leaves: upper, run: pair.up, fraction: edge.up, placed: edge.upPlaced },
    { fringe, leaves: !upper, run: pair.down, fraction: edge.down, placed: edge.downPlaced },
  ];
}

/** Runs that the edge passes into from one gate to the next, counterclockwise, before they are moved; a whole turn back to the same run. */
function passedBetween({ runs }: Region, from: Gate, to: Gate): number {
  if (from.run === to.run) return to.fraction > from.fraction ? 0 : runs.length;
  return (to.run - from.run + runs.length) % runs.length;
}

/**
 * The edge between the ends of two fringes as written, both left out: corners, and points that keep its arcs. `passed`: the runs that
 * it passes into between the fringes themselves; moved ends may have more or fewer between them, or none where they have met.
 */
export function appendEdge(
  { runs }: Region,
  from: WrittenEnd,
  to: WrittenEnd,
  passed: number,
  tolerance: number,
  outline: ZoneOutline,
): void {
  let [run, at] = [from.run, from.fraction];
  for (let left = passed + to.passed - from.passed; left > 0; left--) {
    outline.addAlong(runs[run]!.edge, at, runs[run]!.to, tolerance);
    run = (run + 1) % runs.length;
    at = runs[run]!.from;
    outline.addPlace(runs[run]!.edge, at);
  }
  if (run === to.run && to.fraction > at) outline.addAlong(runs[run]!.edge, at, to.fraction, tolerance);
}
