/** Freeform terms of an asphere: powers of x and y, Zernike terms by ISO 24157, a grid of heights from a file. mm. */
import type { Asphere } from '../../scenario/datum.ts';
import { readSagGrid } from '../tables/read-sag-grid.ts';
import { assemble, assembleList, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { length, POSITIVE, quantity } from '../yaml/values.ts';

type Xy = Asphere['xy'];
type Zernike = NonNullable<Asphere['zernike']>;
type Grid = NonNullable<Asphere['grid']>;

/** Highest order: the powers of a Zernike term of this order have coefficients of some 1e8, so that eight digits are left of it. */
const MOST_ORDER = 20;

export const buildXy = (field: Field): Read<Xy> =>
  assembleList(
    field.entries().map((entry): Read<Xy[number]> => {
      const coefficient = quantity(entry, 'number');
      const [, i, j] = /^(\d{1,2}) *, *(\d{1,2})$/.exec(entry.name) ?? [];
      if (i === undefined || Number(i) + Number(j) > MOST_ORDER)
        return entry
          .key()
          .report(
            'bad-value',
            `there is no term ${JSON.stringify(entry.name)} of x and y`,
            `write the powers of x and y as "2,1" for x²y, their sum at most ${MOST_ORDER}`,
          );
      return coefficient === FAULTY ? FAULTY : { i: Number(i), j: Number(j), coefficient };
    }),
  );

export function buildZernike(field: Field): Read<Zernike> {
  const taken = new Map<string, string>();
  const terms = field
    .get('terms')
    .entries()
    .map((entry): Read<Zernike['terms'][number]> => {
      const coefficient = length(entry);
      const orders = zernikeOrders(entry.name);
      const hint = `give an index j = 0, 1, 2 … of ISO 24157, or orders as "4,-2": n at most ${MOST_ORDER}, n − |m| even and not negative`;
      if (orders === undefined)
        return entry
          .key()
          .report('bad-value', `there is no Zernike term ${JSON.stringify(entry.name)}`, hint);
      const [n, m] = orders;
      const before = taken.get(`${n},${m}`);
      taken.set(`${n},${m}`, entry.name);
      if (before !== undefined) {
        const message = `\`${entry.name}\` is the Zernike term that \`${before}\` is: n ${n}, m ${m}`;
        return entry.key().report('conflicting-keys', message, 'keep one of them');
      }
      return coefficient === FAULTY ? FAULTY : { n, m, coefficient };
    });
  return assemble<Zernike>({ radius: length(field.get('radius'), POSITIVE), terms: assembleList(terms) });
}

/** Of an index, j = (n(n + 2) + m)/2, or of the orders themselves. */
function zernikeOrders(name: string): readonly [n: number, m: number] | undefined {
  const [, first, second] = /^(\d{1,3})(?: *, *(-?\d{1,2}))?$/.exec(name) ?? [];
  if (first === undefined) return undefined;
  if (second === undefined) {
    const index = Number(first);
    let n = 0;
    while (((n + 1) * (n + 2)) / 2 <= index) n++;
    return n > MOST_ORDER ? undefined : [n, 2 * index - n * (n + 2)];
  }
  const [n, m] = [Number(first), Number(second) + 0];
  return n > MOST_ORDER || Math.abs(m) > n || (n - m) % 2 !== 0 ? undefined : [n, m];
}

export function buildGrid(field: Field): Read<Grid> {
  const name = field.get('file');
  const spacing = length(field.get('spacing'), POSITIVE);
  if (typeof name.value !== 'string' || spacing === FAULTY) return FAULTY;
  const bytes = field.reading.files(name.value);
  if ('fault' in bytes) {
    const message = `the grid \`${name.value}\` cannot be read: ${bytes.fault}`;
    const hint = 'check its name and permissions; the path is relative to the scenario’s folder';
    return name.report('unreadable-file', message, hint);
  }
  const read = readSagGrid(new TextDecoder().decode(bytes), name.value, spacing);
  if ('grid' in read) return { file: name.value, ...read.grid };
  if ('findings' in read) {
    field.reading.reportWithin(read.findings);
    return FAULTY;
  }
  return name.report('bad-value', `the grid \`${name.value}\` ${read.fault}`, read.hint);
}
