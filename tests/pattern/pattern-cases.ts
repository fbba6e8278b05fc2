/** The patches that the laws of the written pattern are tested on: every outline, focus, order, bias and kind of stationary point. */
import type { PatchGiven } from './sample-patches.ts';
import { rectangle } from './sample-patches.ts';

export interface PatternCase {
  readonly name: string;
  readonly given: PatchGiven;
  readonly dutyCycle?: number;
  /** mm; wider than usual where a patch would otherwise have too many vertices for a quick test. */
  readonly distance?: number;
}

const UP = Math.PI / 2;

export const CASES: readonly PatternCase[] = [
  {
    name: 'rectangle, line focus',
    given: { outline: rectangle([0, 60], 4), centre: [0, 60], target: [0, 150, 900], lineAngle: UP },
  },
  {
    name: 'rectangle turned, point focus, duty 0.35',
    given: { outline: rectangle([30, 40], 1, 2, 0.3), centre: [30, 40], target: [140, 0, 200] },
    dutyCycle: 0.35,
  },
  {
    name: 'rectangle, order −1',
    given: { outline: rectangle([30, 40], 2), centre: [30, 40], target: [100, 0, 400], order: -1 },
    dutyCycle: 0.6,
  },
  {
    name: 'circle',
    given: {
      outline: { shape: 'circle', centre: [30, 40], radius: 1.5 },
      centre: [30, 40],
      target: [100, 0, 400],
    },
  },
  {
    name: 'ellipse turned, order −1',
    given: {
      outline: { shape: 'ellipse', centre: [30, 40], width: 4, height: 1.6, rotation: 0.5 },
      centre: [30, 40],
      target: [100, 0, 400],
      order: -1,
    },
    dutyCycle: 0.45,
  },
  {
    name: 'ring, fringes all across',
    given: {
      outline: { shape: 'ring', centre: [0, 0], inner: 1, outer: 2.5 },
      centre: [2, 0],
      target: [40, 0, 400],
    },
    dutyCycle: 0.4,
  },
  {
    name: 'sector',
    given: {
      outline: { shape: 'sector', centre: [0, 0], inner: 40, outer: 42, from: 0.3, to: 0.35 },
      centre: [39, 13],
      target: [0, 0, 400],
      order: -1,
    },
  },
  {
    name: 'sector without an inner radius, glass after the pattern',
    given: {
      outline: { shape: 'sector', centre: [10, 10], inner: 0, outer: 3, from: -1, to: 2.5 },
      centre: [11, 11],
      target: [60, 20, 500],
      glass: 'after',
    },
  },
  {
    name: 'polygon, concave',
    given: {
      outline: {
        shape: 'polygon',
        points: [
          [20, 20],
          [24, 20],
          [24, 24],
          [22, 21.5],
          [20, 24],
        ],
      },
      centre: [22, 21],
      target: [120, 60, 500],
      lineAngle: 0.4,
    },
  },
  {
    name: 'roof on a line focus',
    given: {
      outline: rectangle([0, 60], 4),
      centre: [0, 60],
      target: [0, 150, 900],
      lineAngle: UP,
      bias: { shape: 'roof', fringes: 9, direction: undefined },
    },
    dutyCycle: 0.3,
  },
  {
    name: 'roof across a circle',
    given: {
      outline: { shape: 'circle', centre: [20, 0], radius: 1.5 },
      centre: [20, 0],
      target: [60, 0, 300],
      bias: { shape: 'roof', fringes: 200, direction: 0.3 },
    },
  },
  {
    name: 'zone plate: closed rings',
    given: {
      outline: { shape: 'circle', centre: [0, 0], radius: 2.6 },
      centre: [0, 0],
      target: [0, 0, 100],
      beam: 'collimated',
      glass: 'none',
    },
  },
  {
    name: 'zone plate off its centre, duty 0.7',
    given: {
      outline: rectangle([0.4, 0.3], 2.4),
      centre: [0.4, 0.3],
      target: [0, 0, 100],
      beam: 'collimated',
      glass: 'none',
    },
    dutyCycle: 0.7,
  },
  {
    name: 'zone plate on a ring',
    given: {
      outline: { shape: 'ring', centre: [0, 0], inner: 1, outer: 2.6 },
      centre: [2, 0],
      target: [0, 0, 100],
      beam: 'collimated',
      glass: 'none',
    },
  },
  {
    name: 'line of stationary points',
    given: {
      outline: rectangle([0, 0], 8),
      centre: [0, 0],
      target: [0, 0, 300],
      lineAngle: 0.3,
      beam: 'collimated',
    },
  },
  {
    name: 'saddle',
    given: {
      outline: rectangle([0, 0], 8),
      centre: [0.3, -0.2],
      target: [0, 0, 300],
      lineAngle: 0.3,
      beam: 600,
    },
  },
  {
    name: 'saddle in a circle, its own level a fringe edge',
    given: {
      outline: { shape: 'circle', centre: [0.5, 0.2], radius: 5 },
      centre: [0, 0],
      target: [0, 0, 300],
      lineAngle: 1.1,
      beam: 600,
    },
    dutyCycle: 0.45,
  },
  {
    name: 'wide fringes, few across',
    given: {
      outline: rectangle([0, 0], 1.5),
      centre: [0, 0],
      target: [0.3, 0, 520],
      beam: 500,
      glass: 'none',
    },
  },
];
