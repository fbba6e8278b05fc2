/** Coverage factor of an expanded uncertainty: about 95 % of a normal distribution (JCGM 100, 6.2.2 and G.6.6). */
export const COVERAGE = 2;
