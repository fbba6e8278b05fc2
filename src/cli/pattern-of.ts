/** From the options of `make` to the pattern's files; an option out of range comes back as a finding. */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { MM_PER_UM } from '../quantity/conversion.ts';
import { evaluateQuantity } from '../quantity/evaluate.ts';
import { type PatternPart, patternPart } from '../writing/pattern/pattern-files.ts';
import type { PatternFormat } from '../writing/pattern/write-pattern.ts';
import type { Provenance } from '../writing/provenance.ts';
import type { PatternOptions } from './pattern-options.ts';

export function patternOf(
  design: Design,
  options: PatternOptions,
  { draft, date }: Pick<Provenance, 'draft' | 'date'>,
): { readonly part: PatternPart } | { readonly refused: Finding } {
  try {
    const unit = lengthOf('--database-unit', options.databaseUnit);
    const formats = [...new Set(options.pattern ?? [])].map(formatOf);
    return {
      part: patternPart(design, {
        formats,
        dxf: options.patternDxf === true,
        every: wholeNumber('--every', options.every) ?? 1,
        processBias: lengthOf('--process-bias', options.processBias) ?? 0,
        vertexLimit: wholeNumber('--vertex-limit', options.vertexLimit),
        stepsPerMicron: unit === undefined ? undefined : stepsOf(unit),
        date: date === undefined ? undefined : dateOf(date),
        draft,
      }),
    };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return {
      refused: { severity: 'error', rule: 'bad-value', where: 'the pattern', message: error.message },
    };
  }
}

function formatOf(text: string): PatternFormat {
  if (text === 'gds' || text === 'oas') return text;
  throw new RangeError(`--pattern is ${JSON.stringify(text)}; expected gds or oas`);
}

function wholeNumber(option: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (/^\d{1,9}$/.test(text) && Number(text) > 0) return Number(text);
  throw new RangeError(`${option} is ${JSON.stringify(text)}; expected a whole number from 1 on`);
}

function lengthOf(option: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const result = evaluateQuantity(text, 'length', new Map());
  if ('value' in result) return result.value;
  throw new RangeError(`${option} is ${JSON.stringify(text)}: ${result.problem?.message ?? 'not a length'}`);
}

/** Rounding that a unit such as 0.5 nm may have against a whole number of steps a micron. */
const NEARLY_WHOLE = 1e-6;

function stepsOf(unit: number): number {
  const steps = MM_PER_UM / unit;
  const whole = Math.round(steps);
  if (whole > 0 && Math.abs(steps - whole) <= NEARLY_WHOLE * whole) return whole;
  throw new RangeError(`--database-unit goes ${steps} times into a micron; expected a whole number of times`);
}

function dateOf(day: string): readonly [number, number, number, number, number, number] {
  const [year, month, date] = day.split('-').map(Number) as [number, number, number];
  return [year, month, date, 0, 0, 0];
}
