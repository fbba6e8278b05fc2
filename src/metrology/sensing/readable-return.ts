/**
 * Whether enough of a patch's light comes back for its fringes to be read. The share comes from rays (returned-light.ts), worked out
 * once for each patch of a design; a bound in closed form (loss-bound.ts) clears most patches without a ray.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { keptWith } from '../../design/kept-with.ts';
import { LEAST_ANSWER } from './capture-range.ts';
import { lossBound } from './loss-bound.ts';
import { type ReturnedLight, returnedLight } from './returned-light.ts';

/**
 * An ordinary 10 mm patch with a roof, on an ordinary cube, returns 0.89 to 0.92 of its light: the edges and the two slopes of the roof
 * take the rest. Past twice that loss the figures stated for a patch, which reckon with all of it, are a quarter too good.
 */
export const LEAST_RETURNED = 0.8;
/** A share this far above the limit by the few rays is above it: more than what they tell it to. */
const CLEARLY = 0.02;

/** Undefined of what sends nothing back by its kind, and of what surely returns LEAST_RETURNED at least. Rules and estimates ask alike. */
export const doubtfulReturn = keptWith((design, patch: DesignedPatch): ReturnedLight | undefined => {
  const isClear = (lossBound(design, patch) ?? 1) <= 1 - LEAST_RETURNED - CLEARLY;
  return isClear ? undefined : returnedLight(design, patch);
});

/**
 * Whether the patch can be read, and its reading counts for the places of its reference and of the part. A patch that returns less at its
 * design place than what is left at the end of its capture range is out of range from the start. At a quarter, what is left of a square
 * patch is half of it each way: of one twice as wide as the camera needs, just enough pixels.
 */
export const isReadable = (design: Design, patch: DesignedPatch): boolean =>
  (doubtfulReturn(design, patch)?.share ?? 1) >= LEAST_ANSWER;
