/** Stray light against brute force: every ray of a dense grid in every order, with the trip written out once more. */
import { describe, expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { covers } from '../../src/geometry/contains.ts';
import { areaOf, boundsOf } from '../../src/geometry/extent.ts';
import { add, dot, scale, subtract, unit, type Vec3 } from '../../src/geometry/vector.ts';
import { strayReturns } from '../../src/metrology/stray/stray-light.ts';
import { mostVisibility, strayOrder } from '../../src/rules/stray-order.ts';
import { designFrom, linePatch, pointPatch, type Words } from '../metrology/support/design-from.ts';
import '../machine/patience.ts';

const CHROME = { kind: 'chrome', dutyCycle: 0.5 };

/** Two patches whose SMRs stand so that order -1 of the one lands on the other's SMR. */
const mirrored = (far: number, process: Words = CHROME): Design =>
  designFrom({
    interferometer: { collimated: true, beamDiameter: 150, pixelsAcrossBeam: 1000 },
    process,
    references: [
      { id: 'one', kind: 'smr', diameter: 38.1, at: [100, 0, 1000] },
      { id: 'two', kind: 'smr', diameter: 38.1, at: [far, 0, 1000] },
    ],
    patches: [pointPatch('a', 'one', [50, 0], 12), linePatch('b', 'two', [-40, 10], 0)],
  });

/** Collimated light, and an SMR `aside` of the axis that stands before a patch or before the edge of the main pattern. */
const axial = (process: Words, aside: number): Design =>
  designFrom({
    process,
    interferometer: { collimated: true, beamDiameter: 150, pixelsAcrossBeam: 1000 },
    keepOuts: [{ id: 'hole', pattern: true, outline: { circle: { diameter: 80 } } }],
    references: [
      { id: 'far', kind: 'smr', diameter: 38.1, at: [120, 0, 1200] },
      { id: 'mid', kind: 'smr', diameter: 38.1, at: [aside, 0, 1500] },
      { id: 'ball', kind: 'ball', diameter: 25.4, at: [0, 80, 160] },
    ],
    patches: [
      linePatch('f-1', 'far', [52, 0], 90, 14),
      linePatch('m-1', 'mid', [-50, 0], 0, 14),
      pointPatch('b-1', 'ball', [0, 54], 16),
    ],
  });

/** Three small patches side by side, far from their SMR: the two slopes of each roof throw its light onto the patches beside it. */
const torn = (): Design => {
  const roofed = (id: string, x: number): Words => ({
    ...linePatch(id, 'far', [x, 0], 0, 0.85),
    bias: { shape: 'roof', fringes: 1 },
  });
  return designFrom({
    interferometer: { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 100000 },
    references: [{ id: 'far', kind: 'smr', diameter: 38.1, at: [0, 60, 2800] }],
    patches: [roofed('left', -4.24), roofed('middle', 0), roofed('right', 4.24)],
  });
};

/** Order −1 of a sphere's null spreads over an SMR, which sends it to a patch that looks another way. */
const besideMain = (aside: number): Design =>
  designFrom({
    interferometer: { collimated: true, beamDiameter: 150, pixelsAcrossBeam: 4000 },
    substrate: { outline: { circle: { diameter: 150 } }, thickness: 0 },
    part: {
      origin: [0, 0, 1800],
      datums: { M: { sphere: { centre: [0, 0, 0], diameter: 1600, side: 'inside' } } },
    },
    test: { surface: 'M', aperture: { circle: { diameter: 40 } } },
    references: [
      { id: 'far', kind: 'smr', diameter: 38.1, at: [79, 0, 1200] },
      { id: 'mid', kind: 'smr', diameter: 38.1, at: [aside, 0, 1500] },
    ],
    patches: [pointPatch('a', 'far', [55, 0], 14), pointPatch('b', 'mid', [-60, 0], 8)],
  });

interface Sum {
  power: number;
  area: number;
}

/** Power, and the area it leaves from, by `source out reference patch back`; from `across`² rays a zone. */
function brute(design: Design, across: number): Map<string, { power: number; share: number }> {
  const { wavelength } = design.light;
  const { process, interferometer, keepOuts } = design.scenario;
  const acceptance = (0.5 * wavelength * interferometer.pixelsAcrossBeam) / design.beam.cameraDiameter;
  const eta = (order: number): number => {
    const side =
      order === 0
        ? process.kind === 'chrome'
          ? 0.25
          : 0
        : (Math.sin((Math.PI * order) / 2) / (Math.PI * order)) ** 2;
    return process.kind === 'chrome' || order === 0 ? side : 4 * side;
  };
  const incident = (x: number, y: number): readonly [number, number] => {
    const { beam } = interferometer;
    if (beam.kind === 'collimated') return [0, 0];
    const ray = unit(subtract([x, y, 0], beam.focus));
    return [ray[0], ray[1]];
  };
  const zones = [
    ...design.patches.map((patch) => ({ id: patch.id, outline: patch.outline, patch })),
    ...(design.main === undefined ? [] : [{ id: 'main', outline: design.main.outline, patch: design.main }]),
    ...keepOuts.map(({ id, outline }) => ({ id, outline, patch: undefined })),
  ];
  const sums = new Map<string, Sum>();
  for (const zone of zones) {
    const { minX, minY, maxX, maxY } = boundsOf(zone.outline);
    const cell = ((maxX - minX) * (maxY - minY)) / across ** 2;
    for (let n = 0; n < across * across; n++) {
      const x = minX + ((maxX - minX) * ((n % across) + 0.5)) / across;
      const y = minY + ((maxY - minY) * (Math.floor(n / across) + 0.5)) / across;
      if (!covers(zone.outline, [x, y])) continue;
      const [gx, gy] = zone.patch?.phase.gradient(x, y) ?? [0, 0];
      const [ix, iy] = incident(x, y);
      for (let out = -5; out <= 5; out++) {
        if (eta(out) < 1e-9 || (zone.patch === undefined && out !== 0)) continue;
        const [l, m] = [ix + out * wavelength * gx, iy + out * wavelength * gy];
        if (l * l + m * m >= 1) continue;
        const d: Vec3 = [l, m, Math.sqrt(1 - l * l - m * m)];
        for (const { id, at, kind, diameter } of design.references) {
          const toward = subtract(at, [x, y, 0]);
          const along = dot(toward, d);
          const miss = subtract(toward, scale(d, along));
          let [p, e]: Vec3[] = [
            [0, 0, 0],
            [0, 0, 0],
          ];
          if (kind === 'ball') {
            const radius = diameter! / 2;
            const chord2 = radius ** 2 - dot(miss, miss);
            if (chord2 <= 0) continue;
            p = add([x, y, 0], scale(d, along - Math.sqrt(chord2)));
            const normal = unit(subtract(p, at));
            e = subtract(d, scale(normal, 2 * dot(d, normal)));
          } else {
            // Facing its one patch: inside the clear aperture coming and going, at the mouth √2 r before the apex.
            const own = design.patches.find(({ reference }) => reference.id === id)!;
            const axis = scale(own.chiefRay, -1);
            const r = diameter! / 2 / Math.sqrt(3);
            p = add(at, miss);
            e = scale(d, -1);
            const passes = [1, -1].every((side) => {
              const v = scale(miss, -1);
              const run = (side * Math.SQRT2 * r - dot(v, axis)) / dot(d, axis);
              const hit = add(v, scale(d, run));
              const across = subtract(hit, scale(axis, dot(hit, axis)));
              return dot(across, across) <= r * r;
            });
            if (!passes) continue;
          }
          if (e[2] >= 0) continue;
          const home = add(p, scale(e, -p[2] / e[2]));
          const patch = design.patches.find(({ outline }) => covers(outline, [home[0], home[1]]));
          if (patch === undefined) continue;
          const [hx, hy] = patch.phase.gradient(home[0], home[1]);
          const [jx, jy] = incident(home[0], home[1]);
          for (let back = -5; back <= 5; back++) {
            if (eta(back) < 1e-9) continue;
            if (
              Math.hypot(e[0] + jx + back * wavelength * hx, e[1] + jy + back * wavelength * hy) > acceptance
            )
              continue;
            if (zone.patch === patch && out === 1 && back === 1 && patch.reference.id === id) continue;
            const key = `${zone.id} ${out} ${id} ${patch.id} ${back}`;
            const sum = sums.get(key) ?? { power: 0, area: 0 };
            sums.set(key, sum);
            sum.power += cell * eta(out) * eta(back);
            sum.area += cell;
          }
        }
      }
    }
  }
  return new Map(
    [...sums].map(([key, { power, area }]) => {
      const patch = design.patches.find(({ id }) => id === key.split(' ')[3])!;
      return [
        key,
        { power: power / eta(1) ** 2 / areaOf(patch.outline), share: area / areaOf(patch.outline) },
      ];
    }),
  );
}

const nameOf = (stray: ReturnType<typeof strayReturns>[number]): string =>
  [stray.source.id, stray.orderOut, stray.reference, stray.patch.id, stray.orderBack].join(' ');

test.each([
  ['order -1 meets another SMR squarely', mirrored(0), 1],
  ['order -1 meets it at the edge of its aperture', mirrored(9), 1],
  ['nothing meets anything', mirrored(300), 0],
  ['undiffracted light of a chrome patch', axial(CHROME, 52), 1],
  ['undiffracted light of the main pattern', axial(CHROME, 38), 1],
  ['light that a roof tears apart', torn(), 2],
  ['order -1 of a null under test', besideMain(75), 1],
  ['a phase pattern, which has none', axial({ kind: 'etched', dutyCycle: 0.5 }, 52), 0],
])('%s: the same returns as a dense grid of rays finds', (_, design, least) => {
  const expected = brute(design, 140);
  const found = new Map(strayReturns(design).map((stray) => [nameOf(stray), stray]));
  let compared = 0;
  for (const [key, { power, share }] of expected) {
    if (share < 0.004) continue;
    compared++;
    const stray = found.get(key);
    expect(stray, key).toBeDefined();
    expect((stray!.brightness * stray!.share) / power, key).toBeGreaterThan(0.8);
    expect((stray!.brightness * stray!.share) / power, key).toBeLessThan(1.2);
  }
  for (const [key, { share }] of found) if (share >= 0.03) expect(expected.has(key), key).toBe(true);
  expect(compared).toBeGreaterThanOrEqual(least);
});

describe('the rule', () => {
  test('names the patch, the order, the reference and the brightness', () => {
    const [finding] = strayOrder.find(mirrored(0));
    expect(finding).toMatchObject({ severity: 'error', rule: 'stray-order', where: 'a' });
    expect(finding!.message).toMatch(/its own order -1 reaches two and returns through order -1/);
    expect(finding!.value).toBeGreaterThan(finding!.limit!);
    // Order -1 comes home three times as wide either way, from a mirror of the same efficiency: a ninth as bright.
    expect(
      strayReturns(mirrored(0)).find((stray) => nameOf(stray) === 'a -1 two a -1')!.brightness,
    ).toBeCloseTo(1 / 9, 2);
  });

  test('says so of a pattern in a keep-out, and of a patch that undiffracted light alone meets', () => {
    const messages = strayOrder.find(axial(CHROME, 38)).map(({ message }) => message);
    expect(messages).toContainEqual(
      expect.stringMatching(/order 0 of the pattern in keep-out hole reaches mid and returns/),
    );
    const own = strayOrder.find(axial(CHROME, 52)).map(({ message }) => message);
    expect(own).toContainEqual(expect.stringMatching(/^patch f-1 .* its own order 0 reaches mid .* order 0/));
    expect(strayOrder.find(axial({ kind: 'etched', dutyCycle: 0.5 }, 52))).toEqual([]);
  });

  test('says so of the main pattern', () => {
    const messages = strayOrder.find(besideMain(75)).map(({ message }) => message);
    expect(messages).toContainEqual(
      expect.stringMatching(/^patch a has .* order -1 of the main pattern reaches mid and returns/),
    );
    const moved = strayOrder.find(besideMain(160)).map(({ message }) => message);
    expect(moved.filter((message) => message.includes('reaches mid'))).toEqual([]);
  });

  test('a layout whose orders meet nothing is clean', () => {
    expect(strayOrder.find(mirrored(300))).toEqual([]);
  });

  test('the limit is what shifts the phase by half a reading', () => {
    // Against a wanted wave of 1, the false one of amplitude a turns the sum by at most asin(a).
    for (const readable of [0.02, 0.1, 0.3]) {
      const limit = mostVisibility(readable);
      const a = (1 - Math.sqrt(1 - limit * limit)) / limit;
      let most = 0;
      for (let k = 0; k < 3600; k++) {
        const angle = (2 * Math.PI * k) / 3600;
        most = Math.max(most, Math.atan2(a * Math.sin(angle), 1 + a * Math.cos(angle)));
      }
      expect(most / (2 * Math.PI)).toBeCloseTo(readable / 2, 5);
    }
  });
});
