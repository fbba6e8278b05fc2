/**
 * A quadrature over the unit disc: Gauss–Legendre in ρ², equal steps in azimuth. Its weights sum to 1, so Σ w f is the mean
 * of f over the disc; exact for every polynomial in x and y up to `degree`.
 */

interface DiscQuadrature {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly weights: Float64Array;
}

/** Throws a RangeError for a degree that is not a whole number from 0. */
export function discQuadrature(degree: number): DiscQuadrature {
  if (!Number.isInteger(degree) || degree < 0) {
    throw new RangeError(`a quadrature's degree is ${degree}; expected a whole number from 0`);
  }
  // Terms of azimuthal order below `azimuths` average out exactly; what is left is a polynomial in ρ² of degree/2.
  const azimuths = degree + 1;
  const radial = gaussLegendre(Math.floor(degree / 4) + 1);
  const count = azimuths * radial.nodes.length;
  const xs = new Float64Array(count);
  const ys = new Float64Array(count);
  const weights = new Float64Array(count);
  let at = 0;
  for (let k = 0; k < radial.nodes.length; k++) {
    const rho = Math.sqrt((1 + radial.nodes[k]!) / 2);
    for (let step = 0; step < azimuths; step++) {
      const theta = (2 * Math.PI * step) / azimuths;
      xs[at] = rho * Math.cos(theta);
      ys[at] = rho * Math.sin(theta);
      weights[at] = radial.weights[k]! / (2 * azimuths);
      at++;
    }
  }
  return { xs, ys, weights };
}

/** Nodes in (−1, 1), rising, and weights (sum 2) of Gauss–Legendre quadrature, exact to degree 2·count − 1; by Newton. */
export function gaussLegendre(count: number): { nodes: Float64Array; weights: Float64Array } {
  const nodes = new Float64Array(count);
  const weights = new Float64Array(count);
  for (let k = 0; k < Math.ceil(count / 2); k++) {
    // F. Tricomi's starting value; Newton then doubles the digits each step, and 100 steps are never reached.
    let x = Math.cos((Math.PI * (k + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let step = 0; step < 100; step++) {
      let before = 0;
      let value = 1;
      for (let n = 1; n <= count; n++) {
        const next = ((2 * n - 1) * x * value - (n - 1) * before) / n;
        before = value;
        value = next;
      }
      slope = (count * (before - x * value)) / (1 - x * x);
      const move = value / slope;
      x -= move;
      if (Math.abs(move) < 1e-15) break;
    }
    nodes[k] = -x;
    nodes[count - 1 - k] = x;
    weights[k] = 2 / ((1 - x * x) * slope * slope);
    weights[count - 1 - k] = weights[k]!;
  }
  if (count % 2 === 1) nodes[(count - 1) / 2] = 0;
  return { nodes, weights };
}
