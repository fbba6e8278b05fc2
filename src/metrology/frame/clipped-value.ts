/**
 * What is to be expected of a value that noise is added to and that is clipped to full scale then, 0 to 1, and its slope: with t = (x − 1)/σ
 * the excess σ(φ(t) + tΦ(t)) is lost at the bright end, and the like is gained at the dark one (the mean of a clipped normal variable).
 */
interface ClippedValue {
  value: number;
  slope: number;
}

/** Standard deviations from an end of the scale at which a value is hardly ever clipped there. */
const BEYOND = 4;

/** Into `out`. `sigma` 0: nothing is clipped. */
export function clip(x: number, sigma: number, out: ClippedValue): void {
  out.value = x;
  out.slope = 1;
  if (sigma === 0) return;
  const bright = (x - 1) / sigma;
  const dark = -x / sigma;
  if (bright > -BEYOND) {
    const share = normalShare(bright);
    out.value -= sigma * (normalDensity(bright) + bright * share);
    out.slope -= share;
  }
  if (dark > -BEYOND) {
    const share = normalShare(dark);
    out.value += sigma * (normalDensity(dark) + dark * share);
    out.slope -= share;
  }
}

const normalDensity = (t: number): number => Math.exp(-0.5 * t * t) / Math.sqrt(2 * Math.PI);

/** Φ(t) to 1e-7. Source: Abramowitz & Stegun, 26.2.17, from memory. */
function normalShare(t: number): number {
  const z = Math.abs(t);
  const k = 1 / (1 + 0.2316419 * z);
  const series = -0.356563782 + k * (1.781477937 + k * (-1.821255978 + k * 1.330274429));
  const tail = normalDensity(z) * k * (0.31938153 + k * series);
  return t > 0 ? 1 - tail : tail;
}
