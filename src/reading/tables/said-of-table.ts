/** What a user says of a table in options: units of columns that name none, the columns in order, the decimal sign. */
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { commonUnit, type Unit } from '../../quantity/unit.ts';
import { inLetters, type SaidOfTable } from './foreign-columns.ts';

interface TableOptions {
  /** `--unit`, each time it is given: one of length and one of angle. */
  readonly unit?: readonly string[];
  /** `--columns`: names with commas between. */
  readonly columns?: string;
  /** `--decimal` */
  readonly decimal?: 'point' | 'comma';
}

export function saidOfTable({
  unit: words = [],
  columns,
  decimal,
}: TableOptions): { readonly said: SaidOfTable } | { readonly findings: readonly Finding[] } {
  const units: Partial<Record<'length' | 'angle', Unit>> = {};
  const findings: Finding[] = [];
  for (const word of words.flatMap((each) => each.split(',')).map((each) => each.trim())) {
    const unit = commonUnit(inLetters(word));
    const { dimension } = unit ?? {};
    if (unit === undefined || (dimension !== 'length' && dimension !== 'angle')) {
      const message = `${JSON.stringify(word)} is not a supported unit of length or angle`;
      findings.push(
        errorFinding('unknown-unit', '--unit', message, 'such as mm, um, m, in, ft; deg, gon, rad, arcsec'),
      );
    } else if (units[dimension] !== undefined) {
      const message = `gives two units of ${dimension}, ${units[dimension].name} and ${unit.name}`;
      findings.push(
        errorFinding('conflicting-keys', '--unit', message, 'give one unit of length and one of angle'),
      );
    } else units[dimension] = unit;
  }
  if (findings.length > 0) return { findings };
  return { said: { units, columns: columns?.split(',').map((name) => name.trim() || '-'), decimal } };
}
