/**
 * The closed form as printed in coefficients.json, .csv and .html: read from its words alone and evaluated, against the phase that
 * the scene's own words have by brute force. Every kind of beam, glass on either side and none, every focus and datum feature, orders
 * ±1 and ±2. Waves at order 1.
 */
import { describe, expect, test } from 'vitest';
import { phaseAsPrinted } from '../independent/closed-form-reader.ts';
import { type Point, patchWords } from '../independent/scene.ts';
import { edgePolygons } from '../independent/scene-outline.ts';
import { scenePhase } from '../independent/scene-phase.ts';
import { BEAMS, benchScene, GLASSES } from './support/bench-scenes.ts';
import { headOf, printedForms } from './support/coefficient-text.ts';
import { phaseFilesOfScene } from './support/made-phase-files.ts';

/**
 * Twelve decimals of places some hundreds of mm off, the index to nine, and paths of a metre in doubles, over the wavelength; the
 * brute force's own 1e-10 mm is 1.6e-4 waves.
 */
const AGREEMENT = 2e-4;
/** Corners and edges of a patch by numbers of its polygon, and how far out of its centre. */
const PLACES = [
  [3, 1],
  [31, 0.8],
  [58, 0.6],
  [77, 0.9],
] as const;

function placesIn(id: string, scene: Parameters<typeof patchWords>[0]): Point[] {
  const patch = patchWords(scene, id);
  const edge = edgePolygons(patch)[0]!;
  return PLACES.map(([k, out]): Point => {
    const [x, y] = edge[k % edge.length]!;
    return [patch.centre[0] + out * (x - patch.centre[0]), patch.centre[1] + out * (y - patch.centre[1])];
  });
}

describe.each(Object.keys(BEAMS))('in a %s beam', (beam) => {
  describe.each(Object.keys(GLASSES))('with %s', (glass) => {
    const scene = benchScene(beam, glass);
    const { json } = phaseFilesOfScene(scene);
    const head = headOf(json);
    const forms = printedForms(json);

    test.each(scene.patches.map(({ id }) => id))('the printed words of %s give its phase', (id) => {
      const [asPrinted, asDefined] = [phaseAsPrinted(head, forms.get(id)!), scenePhase(scene, id)];
      let range = 0;
      for (const [x, y] of placesIn(id, scene)) {
        const wanted = asDefined(x, y);
        expect(Math.abs(asPrinted(x, y) - wanted), `at ${x}, ${y}`).toBeLessThan(AGREEMENT);
        range = Math.max(range, Math.abs(wanted));
      }
      // A phase that is next to nothing would agree with anything; a ring in a beam square to it has its bias alone.
      expect(range).toBeGreaterThan(0.5);
    });
  });
});
