/** What the null adds as a reading of the part's place, as reports carry it and in one clause. µm, µrad. */
import type { NullSight } from '../../metrology/null/null-readings.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { micro, NONE } from '../page/figures.ts';

/** The null read as a place of the part beside the patches: µm, µrad; null where it tells no better than setting by eye does. */
export interface ReportedNullReadings {
  readonly units: { readonly translations: 'um'; readonly rotations: 'urad' };
  /** Combined standard uncertainty by patches, measured lengths and null. */
  readonly sigma: Readonly<Record<Degree, number | null>>;
  readonly alone: Readonly<Record<Degree, number | null>>;
  /** What the null alone does not see, in words. */
  readonly unobservedAlone: readonly string[];
}

export function reportedNullReadings({ sigma, alone, unobservedAlone }: NullSight): ReportedNullReadings {
  const micro = (by: NullSight['sigma']): Record<Degree, number | null> =>
    Object.fromEntries(
      DEGREES.map((degree) => {
        const value = by[degree];
        return [degree, value === null ? null : value * (degree.startsWith('r') ? URAD_PER_RAD : UM_PER_MM)];
      }),
    ) as Record<Degree, number | null>;
  return {
    units: { translations: 'um', rotations: 'urad' },
    sigma: micro(sigma),
    alone: micro(alone),
    unobservedAlone,
  };
}

/** `x 8.3 µm, y – …`: how well the part is then known. */
export const nullWords = ({ sigma }: ReportedNullReadings): string =>
  DEGREES.map((degree) => {
    const value = sigma[degree];
    if (value === null) return `${degree} ${NONE}`;
    return `${degree} ${micro(value)} ${degree.startsWith('r') ? 'µrad' : 'µm'}`;
  }).join(', ');
