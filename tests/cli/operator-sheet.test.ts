/**
 * What the sheet says of each patch against a picture traced independently: the reference is moved as a sentence says, and the picture must
 * do what the sentence says. Clock directions in the operator's view, µm and fringes; the tracer and the readings of its pictures are in
 * tests/independent/.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { hoursApart, hoursOf, wayOf } from '../independent/fringes-seen.ts';
import { dot, minus, normed, type Vector } from '../independent/ray.ts';
import { lineDirectionOf } from '../independent/round-trip.ts';
import { checkEffect } from './support/operator-effects.ts';
import { fringesAcross, fringesAround, meanOf, movedBy, seenOf } from './support/operator-picture.ts';
import { PIXELS, READABLE, SCENES, scenarioText } from './support/operator-scenes.ts';
import { onBench } from './support/operator-setup.ts';
import { effectSaid, hoursSaid, numberOf, numbersOf, SHEET, STOP } from './support/operator-words.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';
import { patchSections, plainText, tableRows } from './support/sheet-text.ts';

interface Page {
  readonly sections: ReadonlyMap<string, string>;
  readonly rows: readonly (readonly string[])[];
  readonly report: {
    readonly patches: readonly { readonly id: string; readonly senses: readonly Vector[] }[];
  };
}
const pages = new Map<string, Page>();

beforeAll(async () => {
  for (const scene of SCENES) {
    const out = join(folder(), 'out');
    const { stderr } = await datumlight(['make', scenarioFile(scenarioText(scene)), '--draft', '--out', out]);
    const read = (name: string): string => {
      try {
        return readFileSync(join(out, name), 'utf8');
      } catch {
        throw new Error(stderr);
      }
    };
    const html = read('sheet.html');
    const sections = new Map([...patchSections(html)].map(([id, section]) => [id, plainText(section)]));
    pages.set(scene.name, { sections, rows: tableRows(html), report: JSON.parse(read('report.json')) });
  }
});

/** Unit vectors are printed to three decimals. */
const PRINTED = 2e-3;
/** And what three decimals leave of rounding. */
const HALF_HOUR_ROUNDED = 0.255;

/** Every patch whose light comes back. */
const CASES = SCENES.flatMap((scene) =>
  scene.patches.flatMap((patch) => {
    const bench = onBench(scene, patch);
    return bench === undefined ? [] : [{ name: `${scene.name}: ${patch.id}`, scene, patch, bench }];
  }),
);

interface Sentence {
  readonly clock: string | undefined;
  readonly axial: string | undefined;
  readonly direction: Vector;
  readonly effect: string;
  readonly umPerFringe: number;
}

const sentencesOf = (section: string): readonly Sentence[] =>
  [...section.matchAll(SHEET.whichWay)].map(({ groups }) => {
    const { clock, axial, effect, umPerFringe } = groups!;
    const direction = ['x', 'y', 'z'].map((axis) => numberOf(groups![axis]!)) as unknown as Vector;
    return { clock, axial, direction, effect: effect!, umPerFringe: numberOf(umPerFringe!) };
  });

describe.each(CASES)('$name', ({ scene, patch, bench }) => {
  const page = (): Page => pages.get(scene.name)!;
  const section = (): string => page().sections.get(patch.id)!;
  const isPower = (k: number): boolean => patch.focus === 'point' && k === 2;

  test('each move, and what is seen of it', () => {
    const said = sentencesOf(section());
    expect(said).toHaveLength(patch.focus === 'point' ? 3 : 1);
    const chief = normed(minus(bench.setup.target, [...bench.setup.centre, 0]));
    const line = lineDirectionOf(bench.setup);
    for (const [k, { clock, axial, direction, effect, umPerFringe }] of said.entries()) {
      // It is the direction along which a positive reading counts.
      const { senses } = page().report.patches.find(({ id }) => id === patch.id)!;
      expect(Math.hypot(...minus(direction, senses[k]!))).toBeLessThan(PRINTED);
      expect(Math.abs(dot(direction, chief) - (isPower(k) ? 1 : 0))).toBeLessThan(PRINTED);
      if (line !== undefined) expect(Math.abs(dot(direction, line))).toBeLessThan(PRINTED);
      if (axial !== undefined) expect(axial).toBe(direction[2] > 0 ? 'away from' : 'toward');
      else expect(hoursApart(hoursSaid(clock!), hoursOf(wayOf(direction)))).toBeLessThan(HALF_HOUR_ROUNDED);
      checkEffect(bench, effectSaid(effect), direction, umPerFringe / 1000, isPower(k));
    }
  });

  test('µm per fringe, and the moves beneath the pictures', () => {
    const said = sentencesOf(section());
    const before = seenOf(bench);
    const count = (k: number, um: number): number => {
      const [after, after2] = [1, -1].map((s) => movedBy(bench, said[k]!.direction, (s * um) / 1000));
      if (!isPower(k)) return fringesAcross(bench, after2!, after!) / 2;
      return Math.abs(meanOf(fringesAround(bench, after2!, after!))) / 2;
    };
    for (const [k, { umPerFringe }] of said.entries()) console.log(patch.id, k, count(k, umPerFringe));
  });
});
