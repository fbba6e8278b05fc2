/** A scenario whose patches no mirror, turn or sign leaves as they are: orders 1, 2 and -1, a roof, a round patch, off every axis. */
export const RETURNED = `format: datumlight/1
title: Invented mirror, table sent out and back
light: {wavelength: 632.8 nm}
interferometer: {focus: [3, 2, -500], fNumber: 3.2}
substrate:
  outline: {circle: {diameter: 150}}
  edgeMargin: 3
references:
  - {id: north, kind: smr, diameter: 1.5 in, at: [40, 90, 1800]}
  - {id: near, kind: ball, diameter: 0.5 in, at: [90, 20, 130]}
patches:
  - id: ridge
    reference: north
    focus: line
    centre: [12, 58]
    outline: {rectangle: {width: 10, height: 8}}
    lineAngle: 70 deg
    bias: {shape: roof, fringes: 1}
  - {id: second, reference: near, focus: point, centre: [58, -14], outline: {circle: {diameter: 12}}, order: 2}
  - {id: behind, reference: north, focus: line, lineAngle: 25 deg, order: -1, centre: [-31, 49],
     outline: {polygon: {points: [[-5, -4], [6, -5], [4, 5], [-2, 4]]}}}
`;
