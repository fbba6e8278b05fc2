/** The pictures of the null of the surface under test: uniform in place, the fringes that their captions count, and where the camera sees them. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { expectedVisibility } from '../../src/metrology/camera/fringe-picture.ts';
import { benchState } from '../../src/metrology/camera/fringe-picture-displacements.ts';
import { nullBranches } from '../../src/metrology/camera/null-return.ts';
import { cameraPlace } from '../../src/metrology/null/mapping.ts';
import { partMoved, shownMotions } from '../../src/metrology/null/null-fringes.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { captionOf } from '../../src/writing/picture/fringes-page.ts';
import { pictureSet } from '../../src/writing/picture/picture-set.ts';

const name = 'examples/off-axis-asphere.yaml';
const made = designScenario(readScenario(readFileSync(name, 'utf8'), name).scenario!);
if (!('design' in made)) throw new Error(name);
const { design } = made;
const main = design.main!;
const SIZE = 64;
const options = { size: SIZE, orientation: PLAIN_ORIENTATION, patches: ['main'] as string[] };
const pictures = pictureSet(design, {
  ...options,
  at: { part: { translation: [0.002, 0, 0], rotation: [0, 0, 0] } },
});
const pictureOf = (state: string) =>
  pictures.find(({ patch, state: own }) => patch === 'main' && own === state)!;

it('draws the null in place, with the part off along each degree that shows, and displaced as asked; turned about its axis nothing shows', () => {
  expect(pictures.filter(({ patch }) => patch === 'main').map(({ file }) => file)).toEqual(
    ['aligned', 'x', 'y', 'z', 'rx', 'ry', 'displaced'].map(
      (state, k) => `10-null-main-${k + 1 + Number(state === 'displaced')}-${state}.png`,
    ),
  );
  expect(new Set(pictureOf('aligned').picture.grey)).toEqual(new Set([0, 255]));
  expect(new Set(pictureOf('displaced').picture.grey).size).toBeGreaterThan(50);
});

it('counts in a caption the fringes that rays show from edge to edge', () => {
  expect(captionOf(pictureOf('x'))).toMatch(/^part off by x [\d.]+ µm: 3 fringes of tilt$/);
  expect(captionOf(pictureOf('z'))).toMatch(/^part off by z \d+ µm: 3 fringes of tilt, 0\.\d+ of power$/);
  for (const motion of shownMotions(design).filter(({ degree }) => degree !== 'z')) {
    const [branch] = nullBranches(design, main, benchState(design, partMoved(motion)));
    const edge = Array.from({ length: 60 }, (_, k) => {
      const angle = (k * Math.PI) / 30;
      return main.normals.from(60 + 50 * Math.cos(angle), 50 * Math.sin(angle))!.at;
    });
    const waves = edge.map((place) => branch!.waves.at(...place));
    expect(Math.max(...waves) - Math.min(...waves)).toBeCloseTo(3, 1);
  }
});

it('lies in the whole aperture, and as the camera records it, where the mapping says, dark around it', () => {
  const { pixelsAcrossBeam } = design.scenario.interferometer;
  for (const camera of [undefined, { noise: 0 }]) {
    const [seen] = pictureSet(design, {
      ...options,
      patches: [],
      ...(camera === undefined ? {} : { camera }),
    });
    const { grey, width } = seen!.picture;
    const greyAt = (x: number, y: number): number => {
      const [column, row] = cameraPlace(design, main.normals.from(x, y)!.at).map((pixel) =>
        Math.round(((pixel + 0.5) * width) / pixelsAcrossBeam - 0.5),
      );
      return grey[row! * width + column!]!;
    };
    for (const [u, v] of [[0, 0], [40, 0], [-40, 0], [0, 40], [0, -40]] as const) expect(greyAt(60 + u, v)).toBe(255); // biome-ignore format: a table
    for (const [u, v] of [[60, 0], [-60, 0], [0, 60], [0, -60]] as const) expect(greyAt(60 + u, v)).toBe(0); // biome-ignore format: a table
  }
  // Of an etched pattern, 0.405 crossed twice, before bare glass: 2√r/(1 + r) with r = 0.164.
  expect(expectedVisibility(design, main)).toBeCloseTo(0.696, 2);
});
