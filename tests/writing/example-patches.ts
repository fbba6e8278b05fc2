/**
 * What three examples and the scenario of a returned table ask of their patches, taken from their texts by hand: places, lines, biases,
 * wavelength, glass. mm, radians.
 */

import { airIndex, vapourPressure } from '../independent/air.ts';
import type { Asked, Surroundings } from '../independent/designed-phase.ts';
import type { Point, Shape } from '../independent/outline-points.ts';

export interface AskedScenario {
  readonly around: Surroundings;
  readonly patches: readonly Asked[];
}

const DEG = Math.PI / 180;
const HENE = 632.8e-6;
const polar = (radius: number, degrees: number): [number, number] => [
  radius * Math.cos(degrees * DEG),
  radius * Math.sin(degrees * DEG),
];
const rectangle = (centre: Point, width: number, height = width, degrees = 0): Shape => ({
  ...{ shape: 'rectangle', centre, width, height },
  rotation: degrees * DEG,
});
const circle = (centre: Point, diameter: number): Shape => ({
  shape: 'circle',
  centre,
  radius: diameter / 2,
});
const polygon = ([x, y]: Point, points: readonly Point[]): Shape => ({
  shape: 'polygon',
  points: points.map(([u, v]) => [x + u, y + v]),
});
/** Index of glass from its formula's constants, λ in µm (I. H. Malitson 1965; SCHOTT catalogue 2017, C already squared). */
const sellmeier = (b: readonly number[], c2: readonly number[], um: number): number =>
  Math.sqrt(1 + b.reduce((sum, each, k) => sum + (each * um * um) / (um * um - c2[k]!), 0));
const SILICA = sellmeier(
  [0.6961663, 0.4079426, 0.8974794],
  [0.0684043, 0.1162414, 9.896161].map((c) => c * c),
  0.6328,
);

/** Three balls on a circle, each with a tilt of its own direction. */
const balls: AskedScenario = {
  around: {
    wavelength: HENE,
    focus: [0, 0, -500],
    glass: { thickness: 6.35, index: SILICA, side: 'before' },
  },
  patches: (
    [
      ['top', 90, 0],
      ['left', 210, 120],
      ['right', 330, 240],
    ] as const
  ).map(([id, azimuth, direction]) => {
    const centre = polar(59, azimuth);
    return {
      ...{ id, centre, outline: circle(centre, 12), target: [...polar(84, azimuth), 130] },
      bias: { shape: 'tilt', fringes: 1, direction: direction * DEG },
    };
  }),
};

/** Three SMRs of 1.5 in on a rim of 480 mm and against the face at 2800 mm, so 19.05 mm off either. */
const retroreflectors: AskedScenario = {
  around: {
    wavelength: HENE,
    focus: [0, 0, 1200],
    glass: { thickness: 6.35, index: SILICA, side: 'after' },
  },
  patches: (
    [
      ['north', 90, 0],
      ['west', 210, 120],
      ['east', 330, 240],
    ] as const
  ).flatMap(([name, azimuth, turned]) =>
    (
      [
        ['rim', azimuth + 9, turned + 90],
        ['radius', azimuth - 9, turned],
        ['across', azimuth + 180, turned],
      ] as const
    ).map(([which, at, line]): Asked => {
      const centre = polar(60, at);
      return {
        ...{ id: `${name}-${which}`, centre, outline: rectangle(centre, 10, 10, turned) },
        ...{ target: [...polar(240 + 19.05, azimuth), 2800 - 19.05], lineAngle: line * DEG },
        bias: { shape: 'roof', fringes: 1 },
      };
    }),
  ),
};

const inAir = 1064.15e-6 / airIndex(1064.15e-6, 20.5, 100_800, 0.45 * vapourPressure(20.5));
const infrared: AskedScenario = {
  around: {
    wavelength: inAir,
    glass: {
      thickness: 9,
      index: sellmeier(
        [1.03961212, 0.231792344, 1.01046945],
        [0.00600069867, 0.0200179144, 103.560653],
        inAir * 1000,
      ),
      side: 'after',
    },
  },
  patches: [
    {
      ...{ id: 'axis-ring', target: [4, 3, 1400], centre: [0, 0] },
      outline: { shape: 'ring', centre: [0, 0], inner: 22, outer: 30 },
    },
    {
      ...{ id: 'upper-sector', target: [30, 95, 240], centre: [0, 0] },
      outline: { shape: 'sector', centre: [0, 0], inner: 33, outer: 50, from: 70 * DEG, to: 110 * DEG },
      bias: { shape: 'tilt', fringes: 2, direction: 90 * DEG },
    },
    {
      ...{ id: 'lower-circle', target: [-20, -90, 260], centre: [0, -46], order: -1 },
      outline: circle([0, -46], 20),
    },
    {
      ...{ id: 'aside-polygon', target: [70, -120, 1250], centre: [44, 0], lineAngle: 90 * DEG },
      outline: polygon(
        [44, 0],
        [
          [-9, -8],
          [9, -8],
          [9, 5],
          [0, 9],
          [-9, 5],
        ],
      ),
      bias: { shape: 'roof', fringes: 2 },
    },
    {
      ...{ id: 'aside-bar', target: [70, -120, 1250], centre: [-44, 0], lineAngle: 15 * DEG, order: -1 },
      outline: rectangle([-44, 0], 16, 10, 15),
      bias: { shape: 'roof', fringes: 1 },
    },
  ],
};

const returned: AskedScenario = {
  around: { wavelength: HENE, focus: [3, 2, -500] },
  patches: [
    {
      ...{ id: 'ridge', target: [40, 90, 1800], centre: [12, 58], lineAngle: 70 * DEG },
      outline: rectangle([12, 58], 10, 8),
      bias: { shape: 'roof', fringes: 1 },
    },
    {
      ...{ id: 'second', target: [90, 20, 130], centre: [58, -14], order: 2 },
      outline: circle([58, -14], 12),
    },
    {
      ...{ id: 'behind', target: [40, 90, 1800], centre: [-31, 49], lineAngle: 25 * DEG, order: -1 },
      outline: polygon(
        [-31, 49],
        [
          [-5, -4],
          [6, -5],
          [4, 5],
          [-2, 4],
        ],
      ),
    },
  ],
};

export const ASKED: Readonly<Record<string, AskedScenario>> = {
  'diverging-balls': balls,
  'converging-retroreflectors': retroreflectors,
  'infrared-collimated': infrared,
  returned,
};
