/**
 * Figures that come from a source or from common practice, each worked out from what the source says. Half-widths are those of rectangular
 * distributions. "Common practice" has no source beyond the trade; "assumed" is a choice of this program. That they reach what is reported is
 * tested in tests/end-to-end/practice.test.ts.
 */
import { expect, test } from 'vitest';
import { COMMON_PRACTICE, EXPANSION, EXPANSION_UNKNOWN } from '../../src/metrology/budget/practice.ts';
import { expectedVisibility } from '../../src/metrology/camera/fringe-picture.ts';
import { CONTRADICTION } from '../../src/metrology/estimate/consistency.ts';
import {
  MOST_COUNTABLE_PER_PIXEL,
  MOST_FRINGES_PER_PIXEL,
} from '../../src/metrology/sensing/camera-pixels.ts';
import { LEAST_ANSWER } from '../../src/metrology/sensing/capture-range.ts';
import { LEAST_RETURNED } from '../../src/metrology/sensing/readable-return.ts';
import { ACCEPTANCE, EDGE_BAND } from '../../src/metrology/sensing/retroreflector.ts';
import { EYE_SETTING } from '../../src/metrology/sensing/sensitivity.ts';
import { TRACKER_PRACTICE } from '../../src/metrology/transfer/measured-place.ts';
import { LABORATORY_CO2 } from '../../src/optics/air.ts';
import { CLEAR_APERTURE_OF_BALL } from '../../src/optics/corner-cube.ts';
import { LEAST_FRESNEL_NUMBER } from '../../src/optics/diffraction-blur.ts';
import { BEST_PHASE_DEPTH } from '../../src/optics/efficiency.ts';
import { GLASSES } from '../../src/optics/glass.ts';
import { LEAST_EDGE_ANGLE } from '../../src/rules/retro-turned.ts';
import { LEAST_PIXELS } from '../../src/rules/undersampled.ts';
import { LOST_AREA, READING } from '../optics/support/blur.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';

const INCH = 25.4;
const UM = 1e-3;
const DEGREE = Math.PI / 180;

const FIGURES: readonly (readonly [
  name: string,
  held: number | undefined,
  stated: number,
  source: string,
])[] = [
  [
    'apex of a cube in its sphere, ±6 µm',
    COMMON_PRACTICE.apexCentring,
    6 * UM,
    'common practice: 2.5 to 12 µm by grade, a middle one',
  ],
  ['form of a ball, ±0.25 µm', COMMON_PRACTICE.form, 0.25 * UM, 'ISO 3290, grade 10'],
  [
    'radius of a tooling ball',
    COMMON_PRACTICE.ballRadius,
    (0.0004 * INCH) / 2 / 2,
    'common practice: +0/−0.0004 in on the diameter, so ±0.0002 in',
  ],
  [
    'radius of a sphere-mounted retroreflector',
    COMMON_PRACTICE.smrRadius,
    (0.0001 * INCH) / 2,
    'common practice: ±0.0001 in on the diameter',
  ],
  ['a seat in its nest, ±2.5 µm', COMMON_PRACTICE.nest, 2.5 * UM, 'common practice'],
  [
    'vacuum wavelength of an unstabilised helium–neon laser',
    COMMON_PRACTICE.laserWavelength,
    1.5e-6,
    'CIPM 2007, relative standard uncertainty',
  ],
  [
    'temperature of the air, 0.5 K',
    COMMON_PRACTICE.airTemperature,
    0.5,
    'common practice: a laboratory without enclosure',
  ],
  [
    'pressure of the air, 1 hPa',
    COMMON_PRACTICE.airPressure,
    100,
    'common practice: one reading a day of a room barometer',
  ],
  ['humidity of the air, 10 %', COMMON_PRACTICE.airHumidity, 0.1, 'common practice'],
  ['temperature of the hologram, 0.5 K', COMMON_PRACTICE.glassTemperature, 0.5, 'common practice'],
  ['expansion of fused silica', EXPANSION['fused silica'], 0.55e-6, 'public data sheets'],
  ['expansion of N-BK7', EXPANSION['N-BK7'], 7.1e-6, 'SCHOTT catalogue, −30 to 70 °C'],
  ['expansion of N-SF11', EXPANSION['N-SF11'], 8.5e-6, 'SCHOTT catalogue, from memory'],
  ['expansion of N-F2', EXPANSION['N-F2'], 7.8e-6, 'SCHOTT catalogue, from memory'],
  ['expansion of calcium fluoride', EXPANSION['calcium fluoride'], 18.9e-6, 'from memory'],
  ['expansion of sapphire square to its axis', EXPANSION['sapphire (ordinary)'], 5e-6, 'from memory'],
  ['expansion of a glass that is not named', EXPANSION_UNKNOWN, 7.1e-6, 'assumed: crown glass'],
  ['acceptance of a cube, ±30°', ACCEPTANCE, 30 * DEGREE, 'common practice'],
  ['width lost along a cube’s edge', EDGE_BAND, 0.2, 'assumed: chamfers and glue of a good cube'],
  [
    'clear aperture of a cube over its ball',
    CLEAR_APERTURE_OF_BALL,
    Math.sin(35.264_389_7 * DEGREE),
    'geometry: mirrors at 35.2644° that end at the ball',
  ],
  ['setting by eye, well', EYE_SETTING.good, 0.5, 'common practice: within 0.5 to 1 mm'],
  ['setting by eye, poorly', EYE_SETTING.poor, 1, 'common practice: within 0.5 to 1 mm'],
  ['a tracker’s coordinate, 20 µm', TRACKER_PRACTICE.axis, 20 * UM, 'common practice'],
  ['a tracker’s range, 10 µm', TRACKER_PRACTICE.range, 10 * UM, 'common practice'],
  ['a tracker’s angle, a second of arc', TRACKER_PRACTICE.angle, DEGREE / 3600, 'common practice'],
  ['probability of a contradiction', CONTRADICTION, 0.001, 'W. Baarda, 1968, α₀'],
  ['fringes on a camera pixel', MOST_FRINGES_PER_PIXEL, 1 / 2, 'sampling theorem'],
  [
    'fringes on a camera pixel that an eye counts',
    MOST_COUNTABLE_PER_PIXEL,
    0.2,
    'assumed: see capture-range.test.ts',
  ],
  ['share of the light from which a patch still answers', LEAST_ANSWER, 0.25, 'assumed'],
  ['pixels across a patch', LEAST_PIXELS, 20, 'common practice'],
  ['a reading by eye, fringes', READING, 0.1, 'common practice'],
  [
    'Fresnel number of a round trip to a ball',
    LEAST_FRESNEL_NUMBER.ball,
    1,
    'assumed: from propagated waves, see diffraction-blur.ts',
  ],
  [
    'Fresnel number of a round trip to a cube',
    LEAST_FRESNEL_NUMBER.cube,
    2,
    'assumed: from propagated waves, see diffraction-blur.ts; an independent Huygens integral in diffraction-across.test.ts',
  ],
  ['share of a patch that may be lost to blur', LOST_AREA, 0.25, 'assumed'],
  [
    'share of the light that must return',
    LEAST_RETURNED,
    0.8,
    'assumed: twice the loss of an ordinary patch',
  ],
  [
    'a line from an edge of a cube, 5°',
    LEAST_EDGE_ANGLE,
    5 * DEGREE,
    'assumed: there an edge takes a quarter of a 10 mm line',
  ],
  [
    'carbon dioxide of laboratory air, µmol/mol',
    LABORATORY_CO2,
    450,
    'P. E. Ciddor, Appl. Opt. 35, 1566 (1996)',
  ],
  [
    'phase depth of the brightest first order',
    BEST_PHASE_DEPTH,
    Math.PI,
    'J. W. Goodman, Introduction to Fourier Optics: half a wave',
  ],
];

test.each(FIGURES)('%s', (_name, held, stated) => {
  expect(Math.abs((held ?? Number.NaN) / stated - 1)).toBeLessThan(1e-7);
});

test('a glass that may be named has an expansion of its own', () => {
  expect(Object.keys(EXPANSION).sort()).toEqual(GLASSES.map(({ name }) => name).sort());
});

/**
 * Fringes against the bare reference surface of an interferometer, n = 1.46, (n − 1)²/(n + 1)² = 0.0350: assumed. Steel returns 0.55 of the
 * light and three coated mirrors 0.95³ = 0.857: assumed. Etched to half a wave at duty 1/2 the first order has 4/π² (Goodman), crossed twice.
 */
test('fringes have the contrast of their reflectances and of the order crossed twice', () => {
  const design = designFrom({
    references: [
      { id: 'cube', kind: 'smr', diameter: 38.1, at: [0, 100, 900] },
      { id: 'ball', kind: 'ball', diameter: 12.7, at: [0, 60, 200] },
    ],
    patches: [linePatch('on-cube', 'cube', [0, 50], 0), pointPatch('on-ball', 'ball', [0, 20])],
  });
  const surface = (0.46 / 2.46) ** 2;
  const visibility = (reflectance: number): number => {
    const back = (4 / Math.PI ** 2) ** 2 * reflectance;
    return (2 * Math.sqrt(back * surface)) / (back + surface);
  };
  const [onCube, onBall] = design.patches.map((patch) => expectedVisibility(design, patch));
  expect(onCube).toBeCloseTo(visibility(0.95 ** 3), 9);
  expect(onBall).toBeCloseTo(visibility(0.55), 9);
});
