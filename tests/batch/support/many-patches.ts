interface Grid {
  /** Width of a patch against the pitch of the grid. */
  readonly filled?: number;
  /** mm along the beam. */
  readonly focus?: number;
  /** Times as far beside the beam as they are otherwise. */
  readonly aside?: number;
}

/** A scenario of many small patches in a square grid on one substrate, three retroreflectors behind it. */
export function manyPatches(count: number, { filled = 0.6, focus = -500, aside = 1 }: Grid = {}): string {
  const side = Math.ceil(Math.sqrt(count));
  const pitch = 100 / side;
  const size = (filled * pitch).toFixed(4);
  const patches = Array.from({ length: count }, (_, k) => {
    const [x, y] = [k % side, Math.floor(k / side)].map((step) => (pitch * (step + 0.5) - 50).toFixed(4));
    return (
      `  - {id: p${k}, reference: r${k % 3}, focus: line, centre: [${x}, ${y}], lineAngle: ${k % 2 ? 0 : 90} deg, ` +
      `outline: {rectangle: {width: ${size}, height: ${size}}}, bias: {shape: roof, fringes: 1}}\n`
    );
  });
  return `format: datumlight/1
title: Many
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, ${focus}], fNumber: 3.2, pixelsAcrossBeam: 100000}
substrate: {outline: {circle: {diameter: 150}}, thickness: 6.35, glass: fused silica, edgeMargin: 3, clearance: 0.05}
references:
  - {id: r0, kind: smr, diameter: 1.5 in, at: [0, ${aside * 250}, 2800]}
  - {id: r1, kind: smr, diameter: 1.5 in, at: [${aside * 200}, ${aside * -150}, 2800]}
  - {id: r2, kind: smr, diameter: 1.5 in, at: [${aside * -200}, ${aside * -150}, 2800]}
patches:
${patches.join('')}`;
}
