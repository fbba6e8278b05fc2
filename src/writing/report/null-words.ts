/** What the null adds as a reading of the part's place, in one clause. */
import { DEGREES } from '../../scenario/scenario.ts';
import { micro, NONE } from '../page/figures.ts';
import type { ReportedTest } from './reported-test.ts';

/** `x 8.3 µm, y – …`: how well the part is then known, from the report's µm and µrad. */
export const nullWords = ({ sigma }: ReportedTest['nullReadings']): string =>
  DEGREES.map((degree) => {
    const value = sigma[degree];
    if (value === null) return `${degree} ${NONE}`;
    return `${degree} ${micro(value)} ${degree.startsWith('r') ? 'µrad' : 'µm'}`;
  }).join(', ');
