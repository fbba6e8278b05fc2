/** Benches to draw: the examples, and some that are harder to draw. */
import type { Design } from '../../../src/design/design.ts';
import { benchDrawing } from '../../../src/writing/bench/bench-svg.ts';
import { designOf, exampleText } from '../sheet/made-sheets.ts';

const DEG = Math.PI / 180;

export const EXAMPLES = [
  ...['diverging-balls', 'converging-retroreflectors', 'infrared-collimated', 'full-bench'],
  ...['broken-rules', 'steer-mirror-on-stage', 'transfer-mirror-on-rim', 'off-axis-asphere'],
];

/** A tilted part with a flat and a bore, one reference in its frame, a screen, a clamp and a seat. */
export const bench = (beam: string, more = ''): string => `
format: datumlight/1
title: A tilted part
light: {wavelength: 632.8 nm}
interferometer: {${beam}, pixelsAcrossBeam: 1000}
substrate: {outline: {circle: {diameter: 120}}, thickness: 10, index: 1.5, patternFaces: part}
seats: [{id: knob, kind: ball, diameter: 8, at: [50, 10], face: part, height: 6, footprint: 5, uncertainty: 3 um}]
obstacles: [{id: clamp, solids: [{box: {corner: [60, -80, 250], size: [30, 20, 40]}}]}]
part:
  origin: [15, -25, 400]
  rotation: [10 deg, 20 deg, 30 deg]
  datums: {A: {plane: {point: [0, 0, 0], normal: [0, 0, -1]}}}
  envelope: [{cylinder: {point: [0, 0, 0], axis: [0, 0, 1], diameter: 160, length: 30}}]
references:
  - {id: ball, kind: ball, diameter: 12.7, at: [40, 55, 180]}
  - {id: cube, kind: smr, diameter: 25.4, at: [70, 10, -20], frame: part}
patches:
  - {id: p, reference: ball, focus: point, centre: [20, 30], outline: {circle: {diameter: 10}}}
  - {id: q, reference: cube, focus: line, centre: [-20, 10], outline: {rectangle: {width: 8, height: 8}}, lineAngle: 0 deg}
${more}`;

/** Forty references on three circles, of two kinds. */
export const CROWD = ((): string => {
  const each = Array.from({ length: 40 }, (_, k) => {
    const [c, s] = [Math.cos(9 * k * DEG), Math.sin(9 * k * DEG)];
    return { k, c, s, radius: 110 + (k % 3) * 18 };
  });
  return `${bench('focus: [0, 0, -500], fNumber: 3').split('references:')[0]}references:
${each.map(({ k, c, s, radius }) => `  - {id: r${k}, kind: ${k % 2 ? 'smr' : 'ball'}, diameter: 10, at: [${radius * c}, ${radius * s}, 200]}`).join('\n')}
patches:
${each.map(({ k, c, s }) => `  - {id: p${k}, reference: r${k}, focus: ${k % 2 ? 'line, lineAngle: 0' : 'point'}, centre: [${52 * c}, ${52 * s}], outline: {circle: {diameter: 6}}}`).join('\n')}
`;
})();
export const TILTED = bench('focus: [0, 0, -600], fNumber: 6');
export const FAR = bench('focus: [0, 0, -20000], fNumber: 200')
  .replace('[15, -25, 400]', '[15, -25, 10000]')
  .replace('[40, 55, 180]', '[40, 255, 9800]');
export const NEAR = bench('collimated: true, beamDiameter: 100')
  .replace('[15, -25, 400]', '[0, 0, 45]')
  .replace('rotation: [10 deg, 20 deg, 30 deg]', 'rotation: [0, 0, 0]')
  .replace('[40, 55, 180]', '[20, 30, 25]');

/** All of them, by name. */
export const BENCHES: readonly (readonly [name: string, text: string])[] = [
  ...EXAMPLES.map((name) => [name, exampleText(name)] as const),
  ...([['forty references', CROWD], ['ten metres', FAR], ['25 mm', NEAR], ['a tilted part', TILTED]] as const), // biome-ignore format: a list
];

const made = new Map<string, { design: Design; svg: string }>();

/** The design and its drawing, made once. */
export function drawnBench(name: string): { readonly design: Design; readonly svg: string } {
  const known = made.get(name);
  if (known !== undefined) return known;
  const design = designOf(BENCHES.find(([each]) => each === name)![1]);
  const one = { design, svg: benchDrawing(design, { draft: false }).svg };
  made.set(name, one);
  return one;
}
