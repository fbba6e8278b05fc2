/** Numbers and letters in the operator's picture: large enough to read, none over another, and each tied to its own outline. mm. */
import { expect, test } from 'vitest';
import { covers } from '../../../src/geometry/contains.ts';
import { footprintOf } from '../../../src/metrology/sight/seats.ts';
import { viewKey } from '../../../src/writing/sheet/operator-view.ts';
import { type Labelled, labelsOf, letterOf } from '../../../src/writing/sheet/view-labels.ts';
import { JOB_NAMES, job } from './jobs.ts';

/** A hologram printed 90 mm wide has digits of 2 mm then. */
const READABLE = 0.022;

const labelled = (name: string): readonly Labelled[] => {
  const { main, patches, scenario } = job(name);
  return [
    ...(main === undefined ? [] : [{ words: 'M', outline: main.outline, centre: main.centre }]),
    ...patches.map(({ outline, centre }, k) => ({ words: String(k + 1), outline, centre })),
    ...scenario.seats.map((seat, k) => ({
      words: letterOf(k),
      outline: footprintOf(seat),
      centre: seat.at,
    })),
  ];
};

test.each(JOB_NAMES)('%s: every label can be read, and none lies over another', (name) => {
  const { outline } = job(name).scenario.substrate;
  const size = outline.shape === 'circle' ? 2 * outline.radius : 127;
  const all = labelled(name);
  const labels = labelsOf(all, outline);
  expect(labels.map(({ words }) => words)).toEqual(all.map(({ words }) => words));
  for (const [k, { at, height, leader }] of labels.entries()) {
    expect(height).toBeGreaterThanOrEqual(READABLE * size);
    const own = all[k]!.outline;
    // Inside its own outline, or tied to it by a leader, or on free glass beside it.
    if (leader !== undefined) expect([covers(own, leader[0]), covers(outline, at)]).toEqual([true, false]);
    else if (!covers(own, at)) expect(all.filter((other) => covers(other.outline, at))).toEqual([]);
    for (const other of labels.slice(k + 1)) {
      const apart = Math.hypot(other.at[0] - at[0], other.at[1] - at[1]);
      expect(apart).toBeGreaterThan(Math.max(READABLE * size, (height + other.height) / 2));
    }
  }
});

test('numbers of narrow rings stand outside, with a leader from the ring', () => {
  const { patches, scenario } = job('everything');
  const labels = labelsOf(labelled('everything'), scenario.substrate.outline);
  for (const id of ['return-ring', 'zone'])
    expect(labels[1 + patches.findIndex((patch) => patch.id === id)]!.leader).toBeDefined();
  expect(labels.filter(({ leader }) => leader !== undefined)).toHaveLength(2);
});

test('patches without room for each other still have their numbers, however small', () => {
  const many = Array.from({ length: 400 }, (_, k): Labelled => {
    const centre = [(k % 20) * 5 - 47.5, Math.floor(k / 20) * 5 - 47.5] as const;
    return { words: String(k + 1), outline: { shape: 'circle', centre, radius: 2 }, centre };
  });
  const labels = labelsOf(many, { shape: 'circle', centre: [0, 0], radius: 75 });
  expect(labels.map(({ words }) => words)).toEqual(many.map(({ words }) => words));
  expect(labels.filter(({ at }, k) => covers(many[k]!.outline, at)).length).toBeGreaterThan(300);
});

test('the key names every patch and every seat', () => {
  const { patches, scenario } = job('everything');
  const key = viewKey(job('everything')).text;
  for (const [k, { id }] of patches.entries()) expect(key).toContain(`<strong>${k + 1}</strong> ${id}<`);
  for (const [k, { id }] of scenario.seats.entries())
    expect(key).toContain(`<strong>${'abc'[k]}</strong> seat ${id}<`);
  expect(key).toContain('<strong>M</strong> main pattern: M<');
  expect([0, 25, 26, 27, 52].map(letterOf)).toEqual(['a', 'z', 'aa', 'ab', 'ba']);
});
