/**
 * An invented hologram to be drawn: nothing square, round about the origin, or alike in x and y, so that x for y, width for height, a
 * mirror or a turn the wrong way shows in every table and outline. mm, degrees.
 */
import type { PatchWords, Scene } from '../../independent/scene.ts';

export const DRAWING = {
  number: 'HT-0417',
  revision: 'C',
  date: '2026-01-31',
  owner: 'optics group',
  creator: 'hologram design',
  approver: 'metrology lead',
  documentType: 'Fabrication drawing',
  page: '1 of 3',
} as const;

const PATCHES: readonly PatchWords[] = [
  {
    id: 'spot',
    reference: 'near',
    focus: 'point',
    centre: [18.25, 47.5],
    outline: { circle: { diameter: 11 } },
    bias: { shape: 'tilt', fringes: 3, direction: 35 },
  },
  {
    id: 'ridge',
    reference: 'far',
    focus: 'line',
    centre: [-44, 31],
    outline: { rectangle: { width: 13, height: 7, rotation: -25 } },
    lineAngle: 70,
    order: -1,
    bias: { shape: 'roof', fringes: 2.5 },
  },
  {
    id: 'corners',
    reference: 'wall',
    focus: 'line',
    centre: [58, -12.125],
    outline: {
      polygon: {
        points: [
          [-5, -4],
          [6, -5],
          [4, 5],
          [-2, 4],
        ],
      },
    },
    lineAngle: 155,
    order: 2,
  },
  {
    id: 'slab',
    reference: 'far',
    focus: 'line',
    centre: [-9, -51],
    outline: { rectangle: { width: 6, height: 14 } },
    lineAngle: 12.5,
    order: -2,
  },
  {
    id: 'around',
    reference: 'itself',
    focus: 'return',
    centre: [5, -24],
    outline: { ring: { inner: 26, outer: 31 } },
  },
];

export const DRAWN_SCENE: Scene = {
  title: 'Invented mirror, drawn',
  light: { wavelength: 632.8e-6 },
  interferometer: { focus: [4, -3, -480], fNumber: 3.2, laserPower: 0.002 },
  substrate: {
    outline: { rectangle: { width: 172, height: 138 } },
    thickness: 6.35,
    index: 1.457,
    edgeMargin: 3.5,
    clearance: 0.75,
  },
  process: { kind: 'chrome', minFeature: 0.0009, dutyCycle: 0.45, placement: 0.00013, positionToEdge: 0.15 },
  keepOuts: [
    { id: 'middle', outline: { circle: { diameter: 22, centre: [3, -23] } } },
    { id: 'label', outline: { rectangle: { width: 20, height: 6, rotation: 30, centre: [-60, -45] } } },
  ],
  seats: [
    { id: 'east', kind: 'ball', diameter: 6, at: [77, 41], footprint: 8 },
    {
      id: 'west',
      kind: 'nest',
      diameter: 12.7,
      at: [-74, 3.5],
      footprint: 14,
      height: 9,
      face: 'interferometer',
    },
  ],
  drawing: { ...DRAWING, sheet: 'ISO' },
  references: [
    { id: 'near', kind: 'ball', diameter: 12.7, at: [30, 70, 130] },
    { id: 'far', kind: 'smr', diameter: 38.1, at: [-120, 260, 2900] },
    { id: 'wall', kind: 'screen', at: [150, 40, 620] },
    { id: 'itself', kind: 'return' },
  ],
  patches: PATCHES,
};
