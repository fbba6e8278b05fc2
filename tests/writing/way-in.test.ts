/**
 * Moving pictures of the way in: what they start from, and that the fringes in the frames themselves, counted along a line or round a
 * ring, are those that the words state, open from frame to frame, and end with the picture of the bench in place.
 */
import { decode } from 'fast-png';
import { expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { aperturePicture, nullPicture, patchPicture } from '../../src/metrology/camera/fringe-picture.ts';
import { benchState } from '../../src/metrology/camera/fringe-picture-displacements.ts';
import { apertureWaysIn, nullWaysIn } from '../../src/metrology/job/way-in.ts';
import { ORIENTATIONS, PLAIN_ORIENTATION, toPicture } from '../../src/scenario/camera-orientation.ts';
import { bodyMoveWords } from '../../src/writing/page/move-words.ts';
import { apertureFilms, type Film, patchFilms } from '../../src/writing/picture/way-in.ts';
import { frameWords, startWords } from '../../src/writing/picture/way-in-section.ts';
import '../machine/patience.ts';
import { job } from './sheet/jobs.ts';
import { designOf, exampleText } from './sheet/made-sheets.ts';

const balls = designOf(exampleText('diverging-balls'));
const ring = job('ring-only');
const everything = job('everything');
const filmsOf = (design: Design, id: string): readonly Film[] =>
  patchFilms(design, { size: 0, orientation: PLAIN_ORIENTATION, patches: [id] });

type Grey = (right: number, up: number) => number;

/** The grey of a frame at places from −1 to 1. */
function greyOf({ frames, size }: Film, k: number): Grey {
  const { data, width, height, channels, depth } = decode(frames[k]!.png);
  expect({ width, height, channels, depth }).toEqual({ width: size, height: size, channels: 1, depth: 8 });
  return (right, up) =>
    data[Math.floor(((1 - up) / 2) * size) * size + Math.floor(((right + 1) / 2) * size)]!;
}

/** How often a row of greys passes through the middle of its range: twice a fringe. */
function crossings(greys: readonly number[]): number {
  let [count, side] = [0, 0];
  for (const grey of greys) {
    const now = grey > 160 ? 1 : grey < 95 ? -1 : side;
    if (side !== 0 && now !== side) count++;
    side = now;
  }
  return count;
}

const MANY = 2000;
/** A patch fills its picture but for a margin of 6 % of its size on each side. */
const FILLED = 1 / 1.12;
/** Over the middle half: from a reference far off no light comes back to the edge. */
const alongMiddle = (grey: Grey, [right, up]: readonly [number, number]): number =>
  crossings(
    Array.from({ length: MANY }, (_, i) => {
      const at = FILLED * (i / (MANY - 1) - 0.5);
      return grey(at * right, at * up);
    }),
  );
const roundRing = (grey: Grey, radius: number): number =>
  crossings(
    Array.from({ length: MANY }, (_, i) => {
      const angle = (2 * Math.PI * i) / MANY;
      return grey(radius * Math.cos(angle), radius * Math.sin(angle));
    }),
  );

test('a ball: sixteen fringes at most along each direction, which open out and end as the aligned picture', () => {
  const patch = balls.patches.find(({ id }) => id === 'top')!;
  const all = filmsOf(balls, 'top');
  expect(all).toHaveLength(3);
  for (const film of all.slice(0, 2)) {
    const { direction, fringes, from, readable } = film.way;
    expect(fringes).toBeGreaterThan(10);
    expect(fringes).toBeLessThanOrEqual(16);
    expect(from).toBeLessThanOrEqual(readable!);
    const [right, up] = toPicture(PLAIN_ORIENTATION, [direction[0], direction[1]]);
    const line = [right / Math.hypot(right, up), up / Math.hypot(right, up)] as const;
    const counts = film.frames.map((_, k) => alongMiddle(greyOf(film, k), line));
    // One fringe of bias lies along one of the two; twice what passes in half the width misses up to two at its ends.
    film.frames.forEach(({ share }, k) => {
      expect(Math.abs(counts[k]! - share * fringes)).toBeLessThan(2.1);
    });
    expect(counts).toEqual(counts.toSorted((a, b) => b - a));
  }
  const wishes = { size: all[0]!.size, orientation: PLAIN_ORIENTATION };
  const aligned = patchPicture(balls, patch, wishes)!;
  for (const { frames } of all) {
    const last = decode(frames.at(-1)!.png).data;
    expect(Math.max(...last.map((grey, i) => Math.abs(grey - aligned.grey[i]!)))).toBeLessThanOrEqual(9);
  }
});

test('a return ring: fringes counted round it are twice those from edge to edge', () => {
  const { id, outline } = ring.patches.find(({ reference }) => reference.kind === 'return')!;
  if (outline.shape !== 'ring') throw new Error(outline.shape);
  const radius = (FILLED * (outline.inner + outline.outer)) / 2 / outline.outer;
  const tilts = filmsOf(ring, id).filter(({ way }) => way.kind === 'turn');
  expect(tilts).toHaveLength(2);
  for (const film of tilts) {
    expect(film.way.of).toBe('hologram');
    const counted = roundRing(greyOf(film, 0), radius) / 4;
    expect(Math.abs(counted / film.way.fringes - 1)).toBeLessThan(0.07);
    expect(roundRing(greyOf(film, film.frames.length - 1), radius)).toBe(0);
  }
});

test('the null: straight fringes for a part off along x, as many as the words state', () => {
  const way = nullWaysIn(everything).find(({ direction }) => direction[0] === 1)!;
  const wishes = { size: 192, orientation: PLAIN_ORIENTATION, displacements: way.at(1) };
  const { grey } = nullPicture(everything, everything.main!, wishes);
  const middle = grey.subarray(96 * 192, 97 * 192);
  expect(Math.abs(crossings([...middle]) / 2 - way.fringes)).toBeLessThan(1.5);
  expect(way.fringes).toBeCloseTo(12, 6);
});

test('the aperture: the part off in no degree beyond what every patch still reads; its last frame is the bench in place', () => {
  const film = apertureFilms(balls, { size: 0, orientation: PLAIN_ORIENTATION })[0]!;
  expect(film.patch).toBeUndefined();
  const aligned = aperturePicture(balls, { size: film.size, orientation: PLAIN_ORIENTATION });
  const last = decode(film.frames.at(-1)!.png).data;
  // But for the patches' numbers.
  const differing = last.filter((grey, i) => Math.abs(grey - aligned.grey[i]!) > 9).length;
  expect(differing).toBeLessThan(0.01 * last.length);
  for (const { from, readable, fringes } of apertureWaysIn(balls, 0.5)) {
    expect(from).toBeLessThanOrEqual(readable ?? 1);
    expect(fringes).toBeGreaterThan(0.3);
  }
});

test('references on mounts of their own stand still while the part comes in', () => {
  const text = exampleText('diverging-balls');
  const design = designOf(text.replace('reach - away], frame: part}', 'reach], frame: substrate}'));
  const onMount = design.references.filter(({ movesWith }) => movesWith === 'mount');
  expect(onMount.map(({ id }) => id)).toEqual(['top']);
  for (const { at } of apertureWaysIn(design, 0.5)) {
    const { displacementOf } = benchState(design, at(1));
    for (const reference of design.references) {
      const moved = Math.hypot(...displacementOf(reference));
      if (reference.id === 'top') expect(moved).toBeLessThan(1e-12);
      else expect(moved).toBeGreaterThan(1e-5);
    }
  }
});

test('nothing in the pictures shows a part: no moving picture of the aperture; none for a screen', () => {
  expect(apertureWaysIn(ring, 0.5)).toEqual([]);
  expect(apertureWaysIn(job('smrs-on-towers'), 0.5)).toEqual([]);
  expect(patchFilms(job('screens-only'), { size: 0, orientation: PLAIN_ORIENTATION })).toEqual([]);
});

test('words: the start by the clock as the camera shows it, each frame by what is left', () => {
  const [film] = filmsOf(balls, 'top');
  expect(startWords(balls, film!, PLAIN_ORIENTATION)).toMatch(
    /^Start: [\d.]+ µm off, by moving the reference toward 9 o’clock, along \(1, 0, 0\); 1[0-6] fringes\./,
  );
  const turned = { ...PLAIN_ORIENTATION, turned: 90 } as const;
  expect(startWords(balls, film!, turned)).toContain('toward 12 o’clock, along (1, 0, 0)');
  expect(frameWords(film!, 0)).toMatch(/^[\d.]+ µm off, 1[0-6] fringes$/);
  expect(frameWords(film!, film!.frames.length - 1)).toMatch(/^aligned/);
});

test('a turn about z goes the way that the camera shows: from +x toward +y', () => {
  for (const orientation of ORIENTATIONS) {
    const [x, y] = [toPicture(orientation, [1, 0]), toPicture(orientation, [0, 1])];
    // Right × up, counterclockwise on the screen where positive.
    const isCounter = x[0] * y[1] - x[1] * y[0] > 0;
    for (const sign of [1, -1]) {
      const move = { of: 'hologram', kind: 'turn', along: [0, 0, sign] } as const;
      const way = isCounter === sign > 0 ? 'counterclockwise' : 'clockwise';
      const axis = sign > 0 ? 'z' : '−z';
      expect(bodyMoveWords(balls.scenario, move, orientation)).toBe(
        `turning the hologram ${way} in the picture, about ${axis} of the substrate frame`,
      );
    }
  }
});
