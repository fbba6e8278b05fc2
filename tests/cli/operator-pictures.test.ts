/**
 * The pictures that `fringes` writes and those on the sheet, read back as PNG, against fringes traced independently: the right ones, not
 * mirrored and not upside down, from either side; and the captions beneath them. µm and fringes.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Way } from '../independent/fringes-seen.ts';
import type { Vector } from '../independent/ray.ts';
import { cameraWaves } from '../independent/round-trip.ts';
import {
  foretold,
  type Grey,
  greys,
  greysOf,
  likeness,
  pixelPlaces,
  readGrey,
  SIZE,
  tilesOf,
  ways,
} from './support/grey-pictures.ts';
import { carried, countedReadings } from './support/operator-readings.ts';
import { SCENES, type Scene, scenarioText } from './support/operator-scenes.ts';
import { onBench, type PatchOnBench, sensesOf } from './support/operator-setup.ts';
import { numberOf, numbersOf, PICTURES, SHEET } from './support/operator-words.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';
import { captionsIn, patchSections, plainText } from './support/sheet-text.ts';

/** A part off its place, about the substrate frame's origin, which is its own here: mm and radians. */
const MOVED: Vector = [0.004, -0.003, 0.06];
const TURNED: Vector = [-2e-5, 3e-5, 4e-5];
const AT = `part: [${[...MOVED, ...TURNED.map((turn) => `${turn} rad`)].join(', ')}]`;

/** Right and up in a picture from a step in the pattern, and back: a mirror is its own inverse. */
const VIEWS: Readonly<Record<'interferometer' | 'part', (way: Way) => Way>> = {
  interferometer: ([x, y]) => [-x, y],
  part: ([x, y]) => [x, y],
};

interface Shown {
  readonly file: string;
  readonly patch: string | null;
  readonly state: string;
  readonly displacement_um: { readonly x: number; readonly y: number; readonly z: number } | null;
}
interface Run {
  readonly out: string;
  readonly pictures: readonly Shown[];
  readonly page: string;
}

const CASES = [
  { scene: SCENES[0]!, view: 'interferometer' },
  { scene: SCENES[0]!, view: 'part' },
  { scene: SCENES[1]!, view: 'interferometer' },
] as const;
const nameOf = ({ scene, view }: (typeof CASES)[number]): string => `${scene.name}, from the ${view}`;
const runs = new Map<string, Run>();
let sheet = '';

beforeAll(async () => {
  for (const one of CASES) {
    const out = join(folder(), 'out');
    const view = one.view === 'part' ? ['--view', 'part'] : [];
    const args = ['--out', out, '--size', String(SIZE), '--at', AT, '--json', ...view];
    const { stdout } = await datumlight(['fringes', scenarioFile(scenarioText(one.scene)), ...args]);
    const page = readFileSync(join(out, 'fringes.html'), 'utf8');
    runs.set(nameOf(one), { out, pictures: JSON.parse(stdout).pictures, page });
  }
  const out = join(folder(), 'out');
  await datumlight(['make', scenarioFile(scenarioText(SCENES[0]!)), '--draft', '--out', out]);
  sheet = readFileSync(join(out, 'sheet.html'), 'utf8');
});

const returning = (scene: Scene): readonly { readonly id: string; readonly bench: PatchOnBench }[] =>
  scene.patches.flatMap((patch) => {
    const bench = onBench(scene, patch);
    return bench === undefined ? [] : [{ id: patch.id, bench }];
  });

/** A picture that the trace explains to this share is the traced one, but for pixels at its edge and the digits of its caption; what the trace tells apart must not be. */
const SAME = 0.75;
const OTHER = 0.5;
const UNIFORM = 0.05;

/** Pictures of one patch against the trace. In how many ways the trace told a turned picture from the right one. */
function checkPictures(
  bench: PatchOnBench,
  toView: (way: Way) => Way,
  pictures: readonly { readonly grey: Grey; readonly moved: Vector }[],
): number {
  const { setup, corners } = bench;
  const [x0, y0] = setup.centre;
  const inView = corners.map(([x, y]) => toView([x - x0, y - y0]));
  const placeOf = pixelPlaces(
    pictures.map(({ grey }) => grey),
    inView,
  );
  let told = 0;
  for (const { grey, moved } of pictures) {
    const seen = cameraWaves(setup, moved);
    const waves = foretold(placeOf, (right, up) => {
      const [x, y] = toView([right, up]);
      return seen(x0 + x, y0 + y);
    });
    const [mine, shown] = [greysOf(waves), greys(grey)];
    const own = likeness(shown, waves, 'as it is');
    // A uniform picture is like nothing, but for pixels at its edge.
    if (Number.isNaN(likeness(mine, waves, 'as it is'))) {
      expect(Number.isNaN(own) || own < UNIFORM).toBe(true);
      continue;
    }
    expect(own).toBeGreaterThan(SAME);
    for (const way of Object.keys(ways) as (keyof typeof ways)[]) {
      if (likeness(mine, waves, way) > OTHER) continue;
      told++;
      // What is like nothing is not the same.
      expect(likeness(shown, waves, way) >= SAME).toBe(false);
    }
  }
  return told;
}

describe.each(CASES.map((one) => ({ name: nameOf(one), ...one })))('$name', ({ name, scene, view }) => {
  test('every picture is the traced one, and no other way round', () => {
    const { out, pictures } = runs.get(name)!;
    let told = 0;
    for (const { id, bench } of returning(scene)) {
      const own = pictures.filter(({ patch }) => patch === id);
      told += checkPictures(
        bench,
        VIEWS[view],
        own.map(({ file, displacement_um }) => {
          const { x, y, z } = displacement_um!;
          return { grey: readGrey(readFileSync(join(out, file))), moved: [x / 1000, y / 1000, z / 1000] };
        }),
      );
    }
    // Some thirty-five pictures; straight fringes look the same turned round, and rings any way.
    expect(told).toBeGreaterThan(60);
  });

  test('the page says from where it is seen, and the captions what is off and by how many fringes', () => {
    const { page, pictures } = runs.get(name)!;
    expect(PICTURES.from.exec(plainText(page))!.groups!.part).toMatch(view);
    for (const { id, bench } of returning(scene)) {
      const wish = scene.patches.find((patch) => patch.id === id)!;
      const reference = scene.references.find((one) => one.id === wish.reference)!;
      const own = pictures.filter(({ patch }) => patch === id);
      const captions = captionsIn(patchSections(page).get(id)!).map(
        (caption) => PICTURES.caption.exec(caption)!.groups!,
      );
      expect(captions.map(({ state }) => state)).toEqual(own.map(({ state }) => state));
      for (const { state, shows = '0', um, x, y, z, fringes = '' } of captions) {
        if (state === 'aligned') {
          expect(numberOf(shows)).toBe(wish.bias?.fringes ?? 0);
          expect([um, fringes]).toEqual([undefined, '']);
          continue;
        }
        const k = ['second direction', 'along the light'].indexOf(state!) + 1;
        const sense = sensesOf(bench)[k]!;
        const off = numberOf(um!) / 1000;
        const moved: Vector =
          state === 'displaced'
            ? carried(MOVED, TURNED, reference.at)
            : [sense[0] * off, sense[1] * off, sense[2] * off];
        expect(numberOf(um!) / (1000 * Math.hypot(...moved))).toBeCloseTo(1, 2);
        if (state === 'displaced')
          [x, y, z].forEach((part, axis) => {
            expect(Math.abs(numberOf(part!) / 1000 - moved[axis]!)).toBeLessThan(0.006 * off);
          });
        const counted = countedReadings(bench, sensesOf(bench), moved);
        const said =
          state === 'displaced'
            ? numbersOf(fringes)
            : counted.map((_, j) => (j === k ? numberOf(fringes) : 0));
        expect(said).toHaveLength(counted.length);
        // Said to first order and to two digits: tilts are that to a twentieth, power over half a millimetre is not.
        const most = Math.max(...counted.map(Math.abs));
        for (const [j, count] of counted.entries())
          if (state === 'displaced' || j === k)
            expect(Math.abs(said[j]! - count)).toBeLessThan((j === 2 ? 0.12 : 0.05) * most + 0.02);
      }
    }
  });
});

test('the strips on the sheet are the traced pictures, and no other way round', () => {
  let told = 0;
  for (const { id, bench } of returning(SCENES[0]!)) {
    const section = patchSections(sheet).get(id)!;
    const [, address] = /<img src="data:image\/png;base64,([^"]+)"/.exec(section)!;
    const tiles = tilesOf(readGrey(Buffer.from(address!, 'base64')));
    const states = [...plainText(section).matchAll(SHEET.state)].map(({ groups }) => groups!);
    expect(tiles).toHaveLength(states.length);
    told += checkPictures(
      bench,
      VIEWS.interferometer,
      tiles.map((grey, k) => {
        const sense =
          sensesOf(bench)[['second direction', 'along the light'].indexOf(states[k]!.state!) + 1]!;
        const mm = numberOf(states[k]!.um ?? '0') / 1000;
        return { grey, moved: [sense[0] * mm, sense[1] * mm, sense[2] * mm] };
      }),
    );
  }
  expect(told).toBeGreaterThan(50);
});
