/**
 * The wave that a corner cube sends back to a rectangular patch with a line focus, as a Huygens sum over the whole patch. mm, waves.
 *
 * The cube inverts space through its apex A + δ, so that the trip is unfolded: a point P* of the patch is seen from the light that has left
 * at the mirror point 2(A + δ) − P*. Each point of the patch sends a spherical wavelet (Rayleigh and Sommerfeld's first integral,
 * Goodman, Introduction to Fourier Optics, §3.5); both crossings add the phase of the wave that goes to the line, −√(u² + s²), and the
 * roof. u across the line, v along it, the chief ray along z; the integral by Gauss and Legendre's rule on both sides of the ridge.
 */

export interface HuygensPatch {
  readonly wavelength: number;
  readonly distance: number;
  readonly halfAcross: number;
  readonly halfAlong: number;
  /** From ridge to edge in each half, seen on return. */
  readonly roof?: number;
  /** A patch without ends in this direction: there only the wavelet counts that the ray comes from, by the method of stationary phase. */
  readonly endless?: 'across' | 'along';
  /** Of the apex from its place, along u, v and away from the patch. */
  readonly move?: readonly [number, number, number];
}

export interface Wave {
  readonly re: number;
  readonly im: number;
}

/** `nodes` to each of two panels in either direction: some four to a turn of the phase. Wave relative to the beam's own, sent straight back. */
export function returnFromCube(patch: HuygensPatch, nodes = 40): (u: number, v: number) => Wave {
  const { wavelength, distance: s, halfAcross: a, halfAlong: b, roof = 0, move = [0, 0, 0] } = patch;
  const crossing = (u: number, v: number): number =>
    -Math.sqrt(u * u + s * s) + (wavelength * (roof / 2) * Math.abs(v)) / b;
  const rule = gaussLegendre(nodes);
  const panels = (half: number) =>
    [-half / 2, half / 2].flatMap((middle) =>
      rule.map(({ x, weight }) => ({ at: middle + (x * half) / 2, weight: (weight * half) / 2 })),
    );
  const [across, along] = [panels(a), panels(b)];
  // The path's second derivative is 1/(2s) along the line and −1/(2s) across it.
  const ray = (at: number) => [{ at, weight: Math.sqrt(2 * wavelength * s) }];
  return (u, v) => {
    const [x, y, z] = [2 * move[0] - u, 2 * move[1] - v, 2 * (s + move[2])];
    const back = crossing(u, v);
    const us = patch.endless === 'across' ? ray(-x) : across;
    const vs = patch.endless === 'along' ? ray(y) : along;
    let [re, im] = [0, 0];
    for (const from of us) {
      for (const to of vs) {
        const r = Math.sqrt((x - from.at) ** 2 + (y - to.at) ** 2 + z * z);
        const turns = (crossing(from.at, to.at) + r + back) / wavelength;
        const angle = 2 * Math.PI * (turns - Math.round(turns));
        const strength = (from.weight * to.weight * z) / (wavelength * r * r);
        re += strength * Math.cos(angle);
        im += strength * Math.sin(angle);
      }
    }
    return { re, im };
  };
}

/** Nodes in (−1, 1) and weights, by Newton's method on the Legendre polynomial. */
function gaussLegendre(n: number): readonly { readonly x: number; readonly weight: number }[] {
  return Array.from({ length: n }, (_, k) => {
    let x = Math.cos((Math.PI * (k + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let round = 0; round < 8; round++) {
      let [before, now] = [1, x];
      for (let degree = 2; degree <= n; degree++)
        [before, now] = [now, ((2 * degree - 1) * x * now - (degree - 1) * before) / degree];
      slope = (n * (x * now - before)) / (x * x - 1);
      x -= now / slope;
    }
    return { x, weight: 2 / ((1 - x * x) * slope * slope) };
  });
}

/** Midpoints of n equal cells from −half to half. */
export const midpoints = (half: number, n: number): readonly number[] =>
  Array.from({ length: n }, (_, k) => ((2 * k + 1) / n - 1) * half);

export const amplitude = ({ re, im }: Wave): number => Math.hypot(re, im);

/** Root mean square deviation from the mean. */
export function standardDeviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
}
