/**
 * What the budget counts on of the blank and of the pattern's placement, as standard uncertainties, and the limits that these mean to
 * the fabricator: what keeps a limit is as good as the budget counts on. Lengths mm, angles radians, wavefront in waves from the centre
 * to the edge of the lit circle.
 */
import type { Design } from '../../design/design.ts';
import { COVERAGE } from './coverage.ts';
import { COMMON_PRACTICE, type Practice } from './practice.ts';

/** A standard uncertainty, and whether the scenario states it. */
export interface CountedOn {
  readonly u: number;
  readonly stated: boolean;
}

export function blankCountedOn(
  { scenario }: Design,
  practice: Practice = COMMON_PRACTICE,
): Readonly<Record<keyof Practice['blank'], CountedOn>> {
  const { tolerance } = scenario.substrate;
  const of = (key: keyof Practice['blank']): CountedOn => {
    const stated = tolerance?.[key];
    return { u: stated ?? practice.blank[key], stated: stated !== undefined };
  };
  return {
    thickness: of('thickness'),
    index: of('index'),
    wedge: of('wedge'),
    wavefront: of('wavefront'),
  };
}

/** Along each axis. */
export const placementCountedOn = ({ scenario: { process } }: Pick<Design, 'scenario'>): CountedOn => ({
  u: process.placement,
  stated: process.placementStated,
});

/** To either side. */
export const limitOf = ({ u }: CountedOn): number => COVERAGE * u;
