/**
 * What an edge shift may not do, measured on the polygons that GDSII brings: one that closes the narrowest line or space of a patch,
 * wherever that is, is refused; one just short of that is written; one that goes under the process's least feature is warned of by
 * patch, place and width. Strips, arcs, rings, a roof, discs in the middle of zone plates; duty cycles of 0.3 and 0.4. mm.
 */
import { describe, expect, test } from 'vitest';
import { type Corner, readGds } from '../../independent/gdsii.ts';
import { type Interval, insideOf, pointAt, type ScanLine } from '../../independent/scan-line.ts';
import type { PatchWords, Scene } from '../../independent/scene.ts';
import { outsideBy } from '../../independent/scene-outline.ts';
import { type Field, scenePhase, slopeOf } from '../../independent/scene-phase.ts';
import { LINE_SCENE } from '../support/line-scene.ts';
import { patternFilesOfScene } from '../support/made-pattern.ts';
import { NARROW, NARROW_SCENE } from '../support/narrow-scene.ts';

const WRITTEN = 1;
/** Scans through each patch, across its lines, by their middles: every so many along each side of a square about it. */
const ACROSS = 24;
/** Of a width: a scan misses the narrowest place by some lines, over which the period changes by less than this. */
const NEAR = 0.03;
/** Both edges of a disc are as good as the README promises, 5 nm, and rounded to the grid of 1 nm. */
const OF_DISC = 12e-6;
/** Between the edges of one line or space Φ changes by its share; a scan that cuts a corner on a ridge comes back to the same edge. */
const SAME_EDGE = 0.02;
/** A ridge is looked at in steps of some micrometres, mm. */
const AT_PLACE = 0.005;
/** A scan nearer to the patch's edge meets lines cut off by it. */
const WITHIN = 30e-6;

type Kind = 'line' | 'space';
const SHIFTED: Readonly<Record<Kind, -1 | 1>> = { line: -1, space: 1 };

/** A scene with one patch of another, and another least feature, µm. */
function alone({ patches, ...scene }: Scene, id: string, minFeature_um = 0.001): Scene {
  const process = { ...(scene.process as object), minFeature: `${minFeature_um} um` };
  return { ...scene, process, patches: patches.filter((patch) => patch.id === id) };
}

const written = (scene: Scene, id: string, shift: number): Corner[][] =>
  readGds(patternFilesOfScene(scene, { edgeShift: `${shift} mm` }).files.get('pattern.gds')!)
    .polygons(id)
    .filter(({ layer }) => layer === WRITTEN)
    .map(({ points }) => [...points]);

/** The narrowest line, or space, that scans across the lines find whole within the patch. */
function narrowest(
  polygons: readonly (readonly Corner[])[],
  patch: PatchWords,
  phase: Field,
  kind: Kind,
): number {
  const size = Math.max(
    ...polygons.flat().map(([x, y]) => Math.hypot(x - patch.centre[0], y - patch.centre[1])),
  );
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < ACROSS; i++)
    for (let j = 0; j < ACROSS; j++) {
      const from: Corner = [
        patch.centre[0] + size * ((2 * i + 1) / ACROSS - 1),
        patch.centre[1] + size * ((2 * j + 1) / ACROSS - 1),
      ];
      if (outsideBy(patch, from) > -WITHIN) continue;
      const [gx, gy] = slopeOf(phase, ...from, 1e-5);
      const slope = Math.hypot(gx, gy);
      const along: Corner = [gx / slope, gy / slope];
      const run = runAbout(polygons, patch, { from, along }, kind);
      if (run === undefined) continue;
      const [start, end] = run.map((at) => phase(...pointAt({ from, along }, at))) as [number, number];
      if (Math.abs(end - start) > SAME_EDGE) least = Math.min(least, run[1] - run[0]);
    }
  return least;
}

/** Of the line or space of that kind that the scan meets first, if all of it lies within the patch. */
function runAbout(
  polygons: readonly (readonly Corner[])[],
  patch: PatchWords,
  scan: ScanLine,
  kind: Kind,
): Interval | undefined {
  const lines = insideOf(polygons, scan);
  const runs = kind === 'line' ? lines : lines.slice(1).map(([start], k): Interval => [lines[k]![1], start]);
  const run = runs.find(([, last]) => last > 0);
  if (run === undefined) return undefined;
  const [start, end] = run;
  const places = [start - WITHIN, end + WITHIN, (start + end) / 2];
  return places.every((at) => outsideBy(patch, pointAt(scan, at)) < 0) ? run : undefined;
}

const STEADY = ['upright', 'oblique', 'arched', 'roof', 'ring'].flatMap((id) =>
  (['line', 'space'] as const).map((kind) => [id, kind] as const),
);

describe.each(STEADY)('the patch %s, the narrowest %s', (id, kind) => {
  const scene = alone(LINE_SCENE, id);
  const [patch, phase] = [scene.patches[0]!, scenePhase(LINE_SCENE, id)];
  const width = narrowest(written(scene, id, 0), patch, phase, kind);
  const sign = SHIFTED[kind];

  test('a shift that closes it is refused, with its width', () => {
    const refusal = new RegExp(`closes the narrowest ${kind} of patch ${id}, ([\\d.]+) µm wide at x `);
    const shift = sign * (width / 2) * (1 + NEAR);
    expect(() => written(scene, id, shift)).toThrow(refusal);
    let said = '';
    try {
      written(scene, id, shift);
    } catch (error) {
      said = refusal.exec((error as Error).message)![1]!;
    }
    expect(Number(said) / 1e3 / width).toBeGreaterThan(1 - NEAR);
    expect(Number(said) / 1e3 / width).toBeLessThan(1 + NEAR);
  });

  test('a shift just short of that leaves what it says; under the least feature it warns, above it does not', () => {
    const shift = sign * (width / 2) * 0.8;
    const left = narrowest(written(scene, id, shift), patch, phase, kind);
    expect(left / width).toBeGreaterThan(0.2 - NEAR);
    expect(left / width).toBeLessThan(0.2 + NEAR);
    const found = (least: number) =>
      patternFilesOfScene(alone(LINE_SCENE, id, least * 1e3), { edgeShift: `${shift} mm` }).findings;
    expect(found(0.15 * width)).toEqual([]);
    const [finding, ...more] = found(0.25 * width);
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ severity: 'warning', rule: 'shifted-feature', where: id, unit: 'um' });
    expect(finding!.message).toMatch(
      new RegExp(`^patch ${id} has a ${kind} of [\\d.]+ µm at x -?[\\d.]+ mm, y -?[\\d.]+ mm`),
    );
    expect(Math.abs(finding!.value! / 1e3 - left)).toBeLessThan(NEAR * width);
    expect(finding!.limit! / 1e3).toBeCloseTo(0.25 * width, 9);
  });
});

describe.each(Object.entries(NARROW))(
  'where Φ of the patch %s turns back',
  (id, { kind, width, at, across }) => {
    const scene = alone(NARROW_SCENE, id);
    const sign = SHIFTED[kind];
    const widthAlong = (polygons: readonly (readonly Corner[])[], along: Corner): number => {
      const [start, end] = runAbout(polygons, scene.patches[0]!, { from: at, along }, kind)!;
      return end - start;
    };

    test('the line or space there is as wide as Φ says', () => {
      const polygons = written(scene, id, 0);
      for (const along of across) expect(Math.abs(widthAlong(polygons, along) - width)).toBeLessThan(OF_DISC);
    });

    test('a shift that closes it is refused, though the period is larger there', () => {
      const closing = (sign * 1.02 * width) / 2;
      expect(() => written(scene, id, closing)).toThrow(`closes the narrowest ${kind} of patch ${id}`);
    });

    test('a shift that its bent edge cannot follow is refused; a straight one follows', () => {
      const half = () => written(scene, id, (sign * width) / 4);
      if (across.length > 1)
        expect(half).toThrow(/cannot be followed to 5 nm by a line .* bends with a radius of/);
      else expect(widthAlong(half(), across[0]!) / width).toBeCloseTo(0.5, 2);
    });

    test('a small shift moves its edge by itself, and is warned of under the least feature', () => {
      const shift = sign * 50e-6;
      const polygons = written(scene, id, shift);
      for (const along of across)
        expect(Math.abs(widthAlong(polygons, along) - width + 2 * Math.abs(shift))).toBeLessThan(OF_DISC);
      const least = width - Math.abs(shift);
      const { findings } = patternFilesOfScene(alone(NARROW_SCENE, id, least * 1e3), {
        edgeShift: `${shift} mm`,
      });
      expect(findings).toHaveLength(1);
      const [, found, said, x, y] = /has a (\w+) of ([\d.]+) µm at x (\S+) mm, y (\S+) mm, of which/.exec(
        findings[0]!.message,
      )!;
      expect(found).toBe(kind);
      expect(Number(said) / 1e3 / width).toBeCloseTo(1, 2);
      expect(Math.hypot(Number(x) - at[0], Number(y) - at[1])).toBeLessThan(AT_PLACE);
    });
  },
);
