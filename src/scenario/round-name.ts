/** The moments of an alignment at which everything is read, in the order in which they come. */
export const ROUNDS = ['before', 'clamped', 'reseated'] as const;
export type RoundName = (typeof ROUNDS)[number];
