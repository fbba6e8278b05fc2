/**
 * Other orders in which Zernike terms are listed, each counted from 1, from and to the ISO 24157 index j (from 0).
 * Noll: R. J. Noll, J. Opt. Soc. Am. 66, 207 (1976); its polynomials have the same normalisation.
 * Fringe order: by rising n + |m|, then falling |m|, cosine before sine; its polynomials have N = 1, so a coefficient
 * c of the standard normalisation is N·c of the fringe one.
 */
import { zernikeIndexFromOrders, zernikeOrdersFromIndex } from './zernike.ts';

/** Noll's index, from 1, of ISO 24157 index j. */
export function nollFromZernikeIndex(index: number): number {
  const [n, m] = zernikeOrdersFromIndex(index);
  const earlyCosine = n % 4 === 0 || n % 4 === 1;
  const later = m === 0 || (m > 0 ? !earlyCosine : earlyCosine);
  return (n * (n + 1)) / 2 + Math.abs(m) + (later ? 1 : 0);
}

/** ISO 24157 index j of Noll's index, from 1. */
export function zernikeIndexFromNoll(noll: number): number {
  requireFromOne('Noll', noll);
  // The terms of one radial order fill the same run of numbers in both.
  const [n] = zernikeOrdersFromIndex(noll - 1);
  for (let m = -n; m <= n; m += 2) {
    const index = zernikeIndexFromOrders([n, m]);
    if (nollFromZernikeIndex(index) === noll) return index;
  }
  throw new RangeError(`Noll's index ${noll} was not found among the terms of order ${n}`);
}

/** Fringe index, from 1, of ISO 24157 index j. */
export function fringeFromZernikeIndex(index: number): number {
  const [n, m] = zernikeOrdersFromIndex(index);
  const group = 1 + (n + Math.abs(m)) / 2;
  return group * group - 2 * Math.abs(m) + (m < 0 ? 1 : 0);
}

/** ISO 24157 index j of a fringe index, from 1. */
export function zernikeIndexFromFringe(fringe: number): number {
  requireFromOne('fringe', fringe);
  const group = Math.ceil(Math.sqrt(fringe));
  const left = group * group - fringe;
  const size = Math.ceil(left / 2);
  const m = left % 2 === 1 ? -size : size;
  return zernikeIndexFromOrders([2 * (group - 1) - size, m]);
}

function requireFromOne(kind: string, index: number): void {
  if (!Number.isSafeInteger(index) || index < 1) {
    throw new RangeError(`no ${kind} term has the index ${index}; these are whole numbers from 1`);
  }
}
