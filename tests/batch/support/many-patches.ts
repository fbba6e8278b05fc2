/** A scenario of many small patches in a square grid on one substrate, three retroreflectors behind it. */
export function manyPatches(count: number): string {
  const side = Math.ceil(Math.sqrt(count));
  const pitch = 100 / side;
  const size = (0.6 * pitch).toFixed(4);
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
interferometer: {focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 100000}
substrate: {outline: {circle: {diameter: 150}}, thickness: 6.35, glass: fused silica, edgeMargin: 3, clearance: 0.05}
references:
  - {id: r0, kind: smr, diameter: 1.5 in, at: [0, 250, 2800]}
  - {id: r1, kind: smr, diameter: 1.5 in, at: [200, -150, 2800]}
  - {id: r2, kind: smr, diameter: 1.5 in, at: [-200, -150, 2800]}
patches:
${patches.join('')}`;
}
