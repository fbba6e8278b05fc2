/**
 * What the sheet says of a ring's moves, followed to the letter by rays traced one by one: the edge at the clock's hour goes where it is said
 * to go, the body moves by the µm or µrad of one fringe, and one fringe more is counted, positive, of that count and of no other.
 */
import { describe, expect, test } from 'vitest';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import { ringRows } from '../../../src/writing/sheet/ring-section.ts';
import { countedOn, type Motions, ringWaves } from '../../independent/ring-bench.ts';
import { patchOf } from '../../metrology/support/full-bench.ts';
import { RINGS, ringBench, ringDesign } from '../../metrology/support/ring-scene.ts';

type Ring = keyof typeof RINGS;
const design = ringDesign('before', 'converging');

const rowsOf = (id: Ring): ReadonlyMap<string, string> =>
  new Map(
    ringRows(design, patchOf(design, id), null, PLAIN_ORIENTATION).map(
      ([head, words]) => [String(head), textOf(words)] as const,
    ),
  );
const textOf = (words: unknown): string =>
  (Array.isArray(words)
    ? words.map(textOf).join('\n')
    : String((words as { text?: string }).text ?? words)
  ).replaceAll(/<[^>]*>/g, '');

/** To the right and up in the operator's picture; x runs left. */
function directionAt(clock: string): readonly [number, number] {
  const half = /half past (\d+)/.exec(clock);
  const hours = half === null ? Number(/(\d+) o’clock/.exec(clock)![1]) : Number(half[1]) + 0.5;
  const angle = (hours * Math.PI) / 6;
  return [-Math.sin(angle), Math.cos(angle)];
}

const CLOCK = '(\\d+ o’clock|half past \\d+)';
const TURN = new RegExp(`turning the (\\w+) with its edge at ${CLOCK} away from the (\\w+)`, 'i');
const SHIFT = new RegExp(`moving the (\\w+) toward ${CLOCK}`, 'i');
const AXIAL = /moving the (\w+) (away from|toward) the (\w+), along/i;

/** The motion that words ask for, of so many µm or µrad. */
function motionOf(words: string, amount: number): { readonly body: string; readonly motion: number[] } {
  const turn = TURN.exec(words);
  if (turn !== null) {
    const [x, y] = directionAt(turn[2]!);
    // The edge at (x, y) goes to +z, away from both: θ × r has z = θx y − θy x.
    return { body: turn[1]!, motion: [0, 0, 0, y * amount * 1e-6, -x * amount * 1e-6, 0] };
  }
  const shift = SHIFT.exec(words);
  if (shift !== null) {
    const [x, y] = directionAt(shift[2]!);
    return { body: shift[1]!, motion: [x * amount * 1e-3, y * amount * 1e-3, 0, 0, 0, 0] };
  }
  const axial = AXIAL.exec(words)!;
  // Along a direction that its three numbers tell: a beam aslant makes a tilt of a move along z alone.
  const along = /along \(([^)]*)\)/.exec(words)?.[1] ?? '0, 0, 1';
  const [x, y, z] = along.split(', ').map((part) => Number(part.replace('−', '-'))) as [
    number,
    number,
    number,
  ];
  expect(z > 0).toBe(axial[2] === 'away from');
  return { body: axial[1]!, motion: [...[x, y, z].map((part) => part * amount * 1e-3), 0, 0, 0] };
}

/** Each way of each paragraph, with its amount for a fringe. */
function waysOf(id: Ring): readonly string[] {
  return rowsOf(id)
    .get('Effect of moves')!
    .split('\n')
    .flatMap((paragraph) => paragraph.split(/The same fringes by /))
    .filter((words) => /per fringe/.test(words));
}

const counts = (id: Ring, motions: Motions) =>
  countedOn(ringWaves(ringBench(id, 'before', 'converging'), motions), RINGS[id]);

describe.each([
  ['back', 5, 'hologram'],
  ['sphere', 5, 'part'],
  ['plane', 2, 'part'],
] as const)('%s', (id, ways, body) => {
  test('each move that the sheet tells shows one fringe more, of one count', () => {
    const told = waysOf(id);
    expect(told).toHaveLength(ways);
    const rest = counts(id, {});
    for (const words of told) {
      const amount = Number(/([\d.]+) µ(?:m|rad) per fringe/.exec(words)![1]);
      const asked = motionOf(words, amount);
      expect(asked.body).toBe(body);
      const seen = counts(id, { [body]: asked.motion }).map((count, k) => count - rest[k]!);
      const shown = seen.filter((count) => Math.abs(count) > 0.45);
      // Three decimals of a direction along the light: half a µm of 806.
      expect(shown, words).toHaveLength(1);
      expect(shown[0]!, words).toBeCloseTo(1, 1);
    }
  });

  test('says when to stop, and how the fringes are counted for steer', () => {
    const rows = rowsOf(id);
    expect(rows.get('Stop when')).toMatch(new RegExp(`the ${body} is then within [\\d.]+ µ`));
    const words = rows.get('Count for steer')!;
    expect(words).toContain(`{patch: ${id}, fringes: [a, b]${id === 'plane' ? '' : ', power: c'}}`);
    // From the − edge to the + edge, x running left.
    expect(words).toMatch(/along x, from 3 o’clock to 9 o’clock; b along y, from 6 o’clock to 12 o’clock/);
  });
});
