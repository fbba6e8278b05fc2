/**
 * The closed set of what the program can find: one row a code, with what it means and what to do about it.
 * The README's tables of rules and errors are tested against this one.
 */
export type Family = 'rule' | 'input' | 'file';

export interface CodeRow {
  readonly family: Family;
  readonly meaning: string;
  readonly remedy: string;
}

const rule = (meaning: string, remedy: string): CodeRow => ({ family: 'rule', meaning, remedy });
const input = (meaning: string, remedy: string): CodeRow => ({ family: 'input', meaning, remedy });
const file = (meaning: string, remedy: string): CodeRow => ({ family: 'file', meaning, remedy });

export const CODES = {
  'patch-overlap': rule(
    'Two patches overlap, or stand nearer than `substrate.clearance`.',
    'Move or shrink one of the two.',
  ),
  'keep-out': rule(
    'A patch reaches into a keep-out, or stands nearer to it than `substrate.clearance`.',
    'Move or shrink the patch.',
  ),
  'off-substrate': rule(
    'A patch leaves the substrate or comes nearer to its edge than `substrate.edgeMargin`.',
    'Move the patch inward.',
  ),
  unlit: rule('A patch reaches outside the interferometer’s beam.', 'Move the patch inward, or use a faster beam.'),
  'feature-too-small': rule(
    'The smallest written feature of a patch is under `process.minFeature`.',
    'Place the patch nearer to the straight line from the beam’s focus to its reference, or ask the shop for less.',
  ),
  'bias-cancels': rule(
    'The traced return does not show the fringes that the bias asks for.',
    'Use a roof on a line focus; a tilt along the line cancels at a cube.',
  ),
  'few-pixels': rule(
    'Too few camera pixels across a patch, or more than half a fringe per pixel.',
    'Make the patch larger, ask for less bias, or zoom the interferometer.',
  ),
} as const satisfies Record<string, CodeRow>;

export type Code = keyof typeof CODES;
export const inputAndFileSample = { input, file };
