/**
 * coefficients.csv, coefficients.json and samples.csv as a fabricator reads them, each from its own text alone, against the phase that
 * the scene's words have by brute force, bias and all, at points off every axis of symmetry: i for j, x for y, a radius for a diameter,
 * a centre, a sign or an order left out all show. Waves at order 1.
 */
import { describe, expect, test } from 'vitest';
import { numberOf } from '../independent/formula.ts';
import { lineDirectionOf, type Point, patchWords, targetOf } from '../independent/scene.ts';
import { edgePolygons } from '../independent/scene-outline.ts';
import { type Field, scenePhase, slopeOf } from '../independent/scene-phase.ts';
import { zernikeIndex } from '../independent/zernike.ts';
import { benchScene } from './support/bench-scenes.ts';
import {
  COLUMNS,
  csvRows,
  formsInHead,
  headOf,
  jsonPatches,
  jsonPhase,
  num,
  printedForms,
  rowsPhase,
  SAMPLE_COLUMNS,
} from './support/coefficient-text.ts';
import { phaseFilesOfScene } from './support/made-phase-files.ts';

/** The brute force is right to 1e-10 mm of path, a file's last digits to less. */
const BRUTE_FORCE = 2e-4;
/** What the README promises of the polynomial anywhere in a patch. */
const PROMISED = 1e-3;

const SCENES = [
  ['diverging', 'glass before the pattern'],
  ['oblique collimated', 'glass after the pattern'],
] as const;

describe.each(SCENES)('in a %s beam with %s', (beam, glass) => {
  const scene = benchScene(beam, glass);
  const { csv, json, samples } = phaseFilesOfScene(scene);
  const { head, rows } = csvRows(csv);
  const patches = jsonPatches(json);

  /** Points of the edge and inside it, none in line with another. */
  function placesIn(id: string): Point[] {
    const patch = patchWords(scene, id);
    return edgePolygons(patch, 7).flatMap((edge) =>
      edge.map(([x, y], k): Point => {
        const out = patch.outline.ring ? 1 : 1 - ((k * 0.37) % 1);
        return [patch.centre[0] + out * (x - patch.centre[0]), patch.centre[1] + out * (y - patch.centre[1])];
      }),
    );
  }

  function farthest(id: string, found: Field): number {
    const wanted = scenePhase(scene, id);
    return Math.max(...placesIn(id).map(([x, y]) => Math.abs(found(x, y) - wanted(x, y))));
  }

  describe.each(scene.patches.map((patch) => [patch.id, patch] as const))('patch %s', (id, patch) => {
    const inJson = patches.find((one) => one.id === id)!;
    const isRound = patch.outline.circle !== undefined;
    const hasRoof = patch.bias?.shape === 'roof';

    test('the rows and the terms of each basis give the phase, the roof added', () => {
      const bound = Math.min(PROMISED, inJson.polynomial.worstResidual_waves + BRUTE_FORCE);
      for (const basis of isRound ? (['xy', 'zernike'] as const) : (['xy'] as const)) {
        for (const of of ['csv', 'json'] as const) {
          const read = (one: 'xy' | 'zernike' | 'roof') =>
            of === 'csv' ? rowsPhase(rows, id, one) : jsonPhase(inJson, one);
          const [smooth, roof] = [read(basis)!, read('roof')];
          expect(roof !== undefined, `${of} roof`).toBe(hasRoof);
          expect(
            farthest(id, (x, y) => smooth(x, y) + (roof?.(x, y) ?? 0)),
            `${of} ${basis}`,
          ).toBeLessThan(basis === 'xy' ? bound : PROMISED);
        }
      }
    });

    test('Zernike terms stand for round patches alone, counted and normalised as the head says', () => {
      const round = rows.filter((row) => row[COLUMNS.patch] === id && row[COLUMNS.basis] === 'zernike');
      expect(round.length > 0).toBe(isRound);
      expect(inJson.zernike !== undefined).toBe(isRound);
      for (const row of round)
        expect(num(row, COLUMNS.index)).toBe(zernikeIndex(num(row, COLUMNS.i), num(row, COLUMNS.j)));
      for (const { index, n, m } of inJson.zernike?.terms ?? []) expect(index).toBe(zernikeIndex(n, m));
      for (const row of round) expect(num(row, COLUMNS.radius)).toBe(patch.outline.circle!.diameter / 2);
    });

    test('its order, centre, target and line are the scene’s', () => {
      const { order = 1, centre, focus } = patch;
      const ownRows = rows.filter((row) => row[COLUMNS.patch] === id);
      for (const row of ownRows) expect(num(row, COLUMNS.order)).toBe(order);
      expect([inJson.order, inJson.closedForm.order]).toEqual([order, order]);
      expect(inJson.closedForm.centre_mm).toEqual(centre);
      if (focus === 'point' || focus === 'line')
        expectClose(inJson.closedForm.target_mm, targetOf(scene, patch));
      if (focus === 'line') expectClose(inJson.closedForm.lineDirection!, lineDirectionOf(scene, patch));
      else expect(inJson.closedForm.lineDirection).toBeNull();
    });

    test('its ten samples have its phase and its period', () => {
      const phase = scenePhase(scene, id);
      const own = csvRows(samples).rows.filter((row) => row[SAMPLE_COLUMNS.patch] === id);
      expect(own).toHaveLength(10);
      const biased = patch.bias?.shape === 'roof';
      for (const row of own) {
        const [x, y] = [num(row, SAMPLE_COLUMNS.x), num(row, SAMPLE_COLUMNS.y)];
        expect(Math.abs(num(row, SAMPLE_COLUMNS.phase) - phase(x, y))).toBeLessThan(BRUTE_FORCE);
        // On a ridge the slope has two values.
        if (biased && Math.hypot(x - patch.centre[0], y - patch.centre[1]) < 0.1) continue;
        const period_um = 1000 / Math.hypot(...slopeOf(phase, x, y));
        expect(num(row, SAMPLE_COLUMNS.period) / period_um).toBeCloseTo(1, 4);
      }
    });
  });

  test('the two files print the same closed form, and the same head', () => {
    const [byHead, byJson] = [formsInHead(head), printedForms(json)];
    expect([...byHead.keys()]).toEqual(scene.patches.map(({ id }) => id));
    for (const [id, form] of byHead) expect(byJson.get(id)).toMatchObject(form);
    for (const line of headOf(json).split('\n')) {
      expect(head).toContain(`# ${line}`);
      expect(csvRows(samples).head).toContain(`# ${line}`);
    }
  });

  test('the head’s own formulas are those that the files are read by here', () => {
    const said = (start: string): string => new RegExp(`^# ${start} (.*)$`, 'm').exec(head)![1]!;
    expect(said('basis xy:')).toBe(
      `Phi = sum of c * u^i * v^j, u = (x - centreX)/${COLUMNS.radius.split('_')[0]}, v = (y - centreY)/${COLUMNS.radius.split('_')[0]}.`,
    );
    expect(said('basis zernike \\(round patches\\):')).toBe(
      'Phi = sum of c * Z, index = ISO 24157 index, i = n, j = m, each term of unit rms.',
    );
    const roof = /B = (.*?), index 0 = c0 in waves, index 1 and 2 = c1 and c2/.exec(said('basis roof:'))![1]!;
    const numbers = roof.replace('c0', '2').replace('c1', '3').replace('c2', '5');
    expect(numberOf(numbers, { u: -0.3, v: 0.2 })).toBeCloseTo(2 * Math.abs(3 * -0.3 + 5 * 0.2), 12);
  });
});

function expectClose(found: readonly number[], wanted: readonly number[]): void {
  found.forEach((value, k) => {
    expect(Math.abs(value - wanted[k]!)).toBeLessThan(1e-9);
  });
}
