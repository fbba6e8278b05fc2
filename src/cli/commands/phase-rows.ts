/** Phases and periods at points, computed in blocks, as CSV or as the JSON document: memory is that of one block. */
import type { DesignedPatch } from '../../design/design.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { periodField, phaseField } from '../../writing/coefficients/phase-columns.ts';
import { jsonText } from '../../writing/json.ts';

/** Points computed at once: many enough to be quick. */
const BLOCK = 4096;

/** Decimals of a coordinate that was converted to mm: a femtometre. */
const DECIMALS = 12;
/** Digits that a conversion keeps: it is right to the last bit of a double but one. */
const DIGITS = 15;

export class PhaseRows {
  readonly #patch: DesignedPatch;
  readonly #write: (text: string) => void;
  readonly #json: boolean;
  readonly #xs = new Float64Array(BLOCK);
  readonly #ys = new Float64Array(BLOCK);
  readonly #texts: string[] = [];
  #held = 0;
  #written = 0;

  /** `write` takes the text in order. */
  constructor(patch: DesignedPatch, json: boolean, write: (text: string) => void) {
    this.#patch = patch;
    this.#json = json;
    this.#write = write;
    write(json ? jsonText({ patch: patch.id, order: patch.order }).replace(/\n\}\n$/, JSON_START) : CSV_HEAD);
  }

  /** A point in mm; the CSV has its coordinates as they were written, or converted where a text is undefined. */
  add(x: number, y: number, xText: string | undefined, yText: string | undefined): void {
    this.#xs[this.#held] = x;
    this.#ys[this.#held] = y;
    if (!this.#json) this.#texts.push(`${xText ?? plain(x)},${yText ?? plain(y)}`);
    this.#held++;
    if (this.#held === BLOCK) this.#writeBlock();
  }

  /** After the last point. */
  end(): void {
    this.#writeBlock();
    if (this.#json) this.#write('\n  ]\n}\n');
  }

  #writeBlock(): void {
    const xs = this.#xs.subarray(0, this.#held);
    const ys = this.#ys.subarray(0, this.#held);
    const phases = this.#patch.phase.phases(xs, ys);
    const { gx, gy } = this.#patch.phase.gradients(xs, ys);
    const periodAt = (i: number): number => 1 / Math.sqrt(gx[i]! * gx[i]! + gy[i]! * gy[i]!);
    const rows = Array.from(xs, (x, i) => {
      if (!this.#json) return `${this.#texts[i]},${phaseField(phases[i]!)},${periodField(periodAt(i))}\n`;
      const period = periodAt(i) * UM_PER_MM;
      const point = jsonText({ x_mm: x, y_mm: ys[i], phase_waves: phases[i], period_um: period });
      return `${this.#written + i > 0 ? ',\n' : ''}${point.trimEnd().replace(/^/gm, '    ')}`;
    });
    this.#write(rows.join(''));
    this.#written += this.#held;
    this.#held = 0;
    this.#texts.length = 0;
  }
}

const CSV_HEAD = 'x_mm,y_mm,phase_waves,period_um\n';
const JSON_START = ',\n  "points": [\n';

const plain = (value: number): string => {
  const text = String(Number(value.toPrecision(DIGITS)));
  return text.includes('e') ? trimmed(value, DECIMALS) : text;
};
