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
import { checkEffect, checkRoofInPlace } from './support/operator-effects.ts';
import {
  closenessOver,
  fringesAcross,
  fringesAround,
  fringesOf,
  litShare,
  meanOf,
  movedBy,
  type Seen,
  seenOf,
} from './support/operator-picture.ts';
import { PIXELS, READABLE, SCENES, scenarioText } from './support/operator-scenes.ts';
import { cameraDiameter, isBallWithRoof, onBench } from './support/operator-setup.ts';
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
/** A figure of three digits, and what a whole fringe of move does not do to first order. */
const ROUNDED = 0.008;
/** Where the last state is no whole number of fringes. */
const TWO_DIGITS = 0.011;
/** Fringes a pixel that an eye is taken to count. */
const COUNTED = 0.2;
/** Power bends by itself as the reference goes along the light, and a patch seen obliquely is not as wide in all directions. */
const ROUGH = 0.03;
/** A ball that has moved sends light back from beside its own roof: the fringes of the roof move along. */
const ROOF_ON_BALL = 0.05;
/** Sine of the angle to z under which a move is said by its z, as judged here. */
const MOSTLY_AXIAL = 0.2;
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

/** Of the table of patches; that of readings has fewer. */
const PATCH_COLUMNS = 10;

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
      // A clock says little of a move that goes almost along the light's axis, and toward or away little of another one.
      const lateral = Math.hypot(direction[0], direction[1]);
      if (!isPower(k) && Math.abs(lateral - MOSTLY_AXIAL) > 0.03)
        expect(axial !== undefined).toBe(lateral < MOSTLY_AXIAL);
      if (axial !== undefined) expect(axial).toBe(direction[2] > 0 ? 'away from' : 'toward');
      else expect(hoursApart(hoursSaid(clock!), hoursOf(wayOf(direction)))).toBeLessThan(HALF_HOUR_ROUNDED);
      checkEffect(bench, effectSaid(effect), direction, umPerFringe / 1000, isPower(k));
    }
  });

  /** Fringes that a move along one of the directions adds, to first order: half of what lies between it and its opposite. */
  const count = (k: number, um: number): number => {
    const { direction } = sentencesOf(section())[k]!;
    const [back, forth] = [-um, um].map((by) => movedBy(bench, direction, by / 1000)) as [Seen, Seen];
    if (!isPower(k)) return fringesAcross(bench, back, forth) / 2;
    return Math.abs(meanOf(fringesAround(bench, back, forth))) / 2;
  };
  const near = (k: number): number => (isPower(k) ? ROUGH : isBallWithRoof(patch) ? ROOF_ON_BALL : ROUNDED);
  const expectCount = (k: number, um: number, fringes: number): void =>
    expect(Math.abs(count(k, um) / fringes - 1)).toBeLessThan(
      near(k) + (Number.isInteger(fringes) ? 0 : TWO_DIGITS),
    );

  test('µm per fringe, in the sentences, in the table and beneath the pictures', () => {
    const said = sentencesOf(section());
    for (const [k, { umPerFringe }] of said.entries()) expectCount(k, umPerFringe, 1);
    const row = page().rows.find((cells) => cells.length === PATCH_COLUMNS && cells[1] === patch.id)!;
    const perFringe = said.filter((_, k) => !isPower(k)).map(({ umPerFringe }) => umPerFringe);
    expect(row.slice(4, 6).map(numberOf)).toEqual(patch.centre);
    expect(numbersOf(row[7]!)).toEqual([...new Set(perFringe)]);
    expect(numberOf(row[8]!) / (READABLE * Math.max(...perFringe))).toBeCloseTo(1, 2);

    const states = [...section().matchAll(SHEET.state)].map(({ groups }) => groups!);
    expect(states.map(({ state }) => state)).toEqual([
      ...['far off', 'coarse', 'one fringe', 'aligned'],
      ...(said.length > 1 ? ['second direction', 'along the light'] : []),
    ]);
    for (const { state, shows = '0', um, fringes } of states) {
      const k = ['second direction', 'along the light'].indexOf(state!) + 1;
      expect(numberOf(shows)).toBe(state === 'aligned' ? (patch.bias?.fringes ?? 0) : 0);
      if (state === 'aligned') expect(um).toBeUndefined();
      else expectCount(k, numberOf(um!), numberOf(fringes!));
    }
    const [farOff, ...nearer] = states.slice(0, 3).map(({ fringes }) => numberOf(fringes!));
    expect(nearer).toEqual([3, 1]);
    // Eight, but where too little light comes back from there.
    if (farOff !== 8) {
      const [{ direction }, far] = [said[0]!, 8 * said[0]!.umPerFringe];
      expect(litShare(bench, direction, far / 1000)).toBeLessThan(0.25);
    }
  });

  test('what it shows when it is done, and how near the reference is then', () => {
    const { seen, within } = SHEET.stop.exec(section())!.groups!;
    const near = numbersOf(within!);
    const tilts = sentencesOf(section()).flatMap((_, k) => (isPower(k) ? [] : [k]));
    for (const k of tilts) {
      const um = near.length === 1 ? near[0]! : near[k]!;
      expectCount(k, um, READABLE);
    }
    const inPlace = seenOf(bench);
    const place = SHEET.biasAtPlace.exec(section())!.groups!;
    const shape = patch.bias?.shape;
    const words = shape === undefined ? STOP.grey : shape === 'roof' ? STOP.halves : STOP.straight;
    const { readable, count: said } = words.exec(seen!)!.groups as { readable: string; count?: string };
    expect(numberOf(readable)).toBe(READABLE);
    if (patch.bias === undefined) {
      expect(fringesOf(bench, inPlace)).toBeLessThan(1e-3);
      expect(place.none).toBe('<0.001');
      return;
    }
    const shown = shape === 'roof' ? checkRoofInPlace(bench, inPlace) : fringesOf(bench, inPlace);
    expect(shown).toBeCloseTo(patch.bias.fringes, 1);
    expect([place.shape, numberOf(place.asked!), numberOf(place.seen!)]).toEqual([
      shape,
      patch.bias.fringes,
      patch.bias.fringes,
    ]);
    if (said !== undefined) expect(said === 'One' ? 1 : numberOf(said)).toBe(patch.bias.fringes);
  });

  test('a tilt bias has a false null: where it lies, and which way opens the fringes', () => {
    const said = SHEET.falseNull.exec(section())?.groups;
    if (patch.bias?.shape !== 'tilt') {
      expect(said).toBeUndefined();
      return;
    }
    const { um, back, clock, axial } = said!;
    const direction = ['x', 'y', 'z'].map((axis) => numberOf(said![axis]!)) as unknown as Vector;
    const { fringes } = patch.bias;
    const place = seenOf(bench);
    const away = (share: number): Seen => movedBy(bench, direction, (share * numberOf(um!)) / 1000);
    expect(back).toBe(um);
    // As many fringes as in place, the other way round; half the way there are none, and past the false null they close up.
    expect(Math.abs(fringesOf(bench, away(1)) / fringes - 1)).toBeLessThan(2 * ROUGH);
    expect(Math.abs(fringesAcross(bench, place, away(1)) / (2 * fringes) - 1)).toBeLessThan(ROUGH);
    expect(fringesOf(bench, away(0.5))).toBeLessThan(ROUGH * fringes);
    expect(fringesOf(bench, away(0.1))).toBeLessThan(fringesOf(bench, place));
    expect(fringesOf(bench, away(1.1))).toBeGreaterThan(fringesOf(bench, away(1)));
    if (axial === undefined)
      expect(hoursApart(hoursSaid(clock!), hoursOf(wayOf(direction)))).toBeLessThan(HALF_HOUR_ROUNDED);
  });

  test('from how far off its fringes can be counted: a fifth of a fringe a pixel, or less far where the light is lost', () => {
    const said = sentencesOf(section());
    const tilts = said.flatMap((_, k) => (isPower(k) ? [] : [k]));
    const from = numbersOf(SHEET.readableFrom.exec(section())!.groups!.from!);
    for (const k of tilts) {
      const mm = from.length === 1 ? from[0]! : from[k]!;
      const closest = Math.max(
        ...[-1, 1].flatMap((way) => closenessOver(bench, movedBy(bench, said[k]!.direction, way * mm))),
      );
      const perPixel = (closest * cameraDiameter(scene)) / PIXELS;
      if (perPixel < COUNTED / 2) {
        // A quarter of the light is left, and a little more without what the edges of a real cube take.
        const lit = Math.min(...[-1, 1].map((way) => litShare(bench, said[k]!.direction, way * mm)));
        expect(lit).toBeGreaterThan(0.24);
        expect(lit).toBeLessThan(0.33);
        continue;
      }
      // Said to two digits; and the fringes of so large a move are not of one closeness, least of all where it shifts a roof.
      expect(Math.abs(perPixel / COUNTED - 1)).toBeLessThan(isBallWithRoof(patch) ? 0.2 : 0.1);
    }
  });
});
