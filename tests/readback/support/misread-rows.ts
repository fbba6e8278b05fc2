/** Misreadings of terms, rows and names: what is done to a good table, and what must be said of it; and what no cause can be named for. */
import { RETURNED } from '../../cli/support/returned-scenario.ts';
import {
  C,
  careless,
  each,
  FRINGE,
  isPhase,
  isTerm,
  listed,
  moved,
  NOLL,
  RADIUS,
  renamed,
  times,
  turnedTerms,
  without,
} from './damage.ts';
import { type Misreading, whole } from './misread-numbers.ts';
import { tableOf } from './returned-table.ts';

export const OF_ROWS: readonly Misreading[] = [
  {
    what: 'Zernike terms of unit peak',
    done: careless('unit-peak-zernikes'),
    named: whole('Zernike terms normalised to unit peak, not unit RMS'),
  },
  {
    what: 'Zernike coefficients in Noll’s order',
    done: listed(NOLL, () => 1),
    named: [
      /^table-misread: (patch second, Zernike terms|the whole table has been misread): Zernike coefficients in the order of Noll’s index; /,
    ],
  },
  {
    what: 'fringe Zernike coefficients',
    done: listed(FRINGE, (n, m) => Math.sqrt((m === 0 ? 1 : 2) * (n + 1))),
    named: [
      /^table-misread: .*Zernike coefficients in the order of the fringe index, and Zernike terms normalised to unit peak/,
    ],
  },
  {
    what: 'Zernike sines and cosines exchanged',
    done: each(
      (row) => times(row, 'j', -1),
      ({ basis }) => basis === 'zernike',
    ),
    named: [/^table-misread: .*Zernike sine and cosine terms exchanged/],
  },
  {
    what: 'powers of mm, the radius left in its column',
    done: each(
      (row) => times(row, C, Number(row[RADIUS]) ** -(Number(row.i) + Number(row.j))),
      ({ basis }) => basis === 'xy',
    ),
    named: [/^table-misread: .*coefficients of powers of x and y in mm/],
  },
  {
    what: 'decimal points lost by a spreadsheet, the zeros behind them too',
    done: each(
      (row) => {
        row[C] = Number(row[C]).toFixed(8).replace(/0+$/, '').replace('.', '');
      },
      ({ basis }) => basis === 'xy',
    ),
    named: [/^table-misread: .*decimal points lost or shifted: the digits are right/],
  },
  {
    what: 'minus signs lost',
    done: each((row) => {
      row[C] = row[C]!.replace('-', '');
    }),
    named: [/^table-misread: .*minus signs lost: every coefficient is positive/],
  },
  {
    what: 'coefficients one row too low',
    done: moved(C, 1),
    named: whole('coefficients one row too low'),
  },
  {
    what: 'the names of the patches one row too low',
    done: moved('patch', 1),
    named: [/^bad-table: the names of the patches are one row too low/],
  },
  {
    what: 'the names of the patches one row too high',
    done: moved('patch', -1),
    named: [/^bad-table: the names of the patches are one row too high/],
  },
  {
    what: 'the names in the list of patches shifted by one',
    done: renamed({ ridge: 'second', second: 'behind', behind: 'ridge' }),
    named: [
      /^table-misread: the names of 3 patches are shifted by one: the rows under second are those of ridge/,
    ],
  },
  {
    what: 'two names exchanged',
    done: renamed({ ridge: 'behind', behind: 'ridge' }),
    named: [/^table-misread: the names of 2 patches are exchanged: the rows under/],
  },
  {
    what: 'the sign of one coefficient',
    done: each((row) => times(row, C, -1), isTerm('behind', '1', '1')),
    named: [
      /^table-misread: patch behind, polynomial: the sign of the coefficient of the term u\^1 v\^1 is flipped; /,
    ],
  },
  {
    what: 'the decimal point of one coefficient',
    done: each((row) => times(row, C, 10), isTerm('behind', '1', '1')),
    named: [/the decimal point in the coefficient of the term u\^1 v\^1 is 1 place too far to the right; /],
  },
  {
    what: 'two coefficients exchanged',
    done: ({ rows }) => {
      const [a, b] = [isTerm('behind', '1', '1'), isTerm('behind', '0', '2')].map((is) => rows.find(is)!);
      [a!.i, a!.j, b!.i, b!.j] = [b!.i!, b!.j!, a!.i!, a!.j!];
    },
    named: [/the coefficients of the term u\^\d v\^\d and the term u\^\d v\^\d are exchanged; /],
  },
  {
    what: 'digits cut off',
    done: each((row) => {
      row[C] = row[C]!.replace(/(\.\d\d)\d+/, '$1');
    }, isPhase),
    named: [/^table-rounded: .*too coarsely: up to/],
  },
  {
    what: 'a patch left out',
    done: (table) => {
      table.rows = table.rows.filter(({ patch }) => patch !== 'second');
    },
    named: [/^table-incomplete: patch second is missing/],
  },
  {
    what: 'one row left out',
    done: without(isTerm('behind', '1', '1')),
    named: [/^table-incomplete: patch behind, polynomial: the row of the term u\^1 v\^1 is left out; up to/],
  },
  {
    what: 'the linear terms of a polynomial left out, as where tilt is removed',
    done: without(({ patch, i, j }) => patch === 'behind' && Number(i) + Number(j) === 1),
    named: [
      /^table-incomplete: patch behind, polynomial: the rows of the term u\^1 v\^0 and the term u\^0 v\^1 are left out; up to/,
    ],
  },
  {
    what: 'a polynomial cut off at the second degree',
    done: without(
      ({ patch, basis, i, j }) => patch === 'ridge' && basis === 'xy' && Number(i) + Number(j) > 2,
    ),
    named: [/^table-incomplete: patch ridge, polynomial: the terms above degree 2 are left out; up to/],
  },
  {
    what: 'two digits of one coefficient exchanged',
    done: each(
      (row) => {
        row[C] = row[C]!.replace(/([1-9])(\d)(?=\.)/, '$2$1');
      },
      isTerm('behind', '1', '1'),
    ),
    named: [
      /^table-misread: patch behind, polynomial: two digits are exchanged in the coefficient of the term u\^1 v\^1: it is -91\.28\d+, expected -19\.28\d+; up to/,
    ],
  },
  {
    what: 'one digit of one coefficient wrong',
    done: each(
      (row) => {
        row[C] = row[C]!.replace(
          /(\.\d)(\d)/,
          (_, head: string, digit: string) => head + ((Number(digit) + 3) % 10),
        );
      },
      isTerm('behind', '1', '1'),
    ),
    named: [
      /: one digit is wrong in the coefficient of the term u\^1 v\^1: it is -19\.\d+, expected -19\.28\d+; up to/,
    ],
  },
];

/** What no cause can be named for: why. */
export const UNNAMED: readonly (Misreading & { readonly why: string })[] = [
  {
    what: 'the linear terms of all polynomials a tenth too large: one finding',
    why: 'no misreading does that to linear terms alone: they are named',
    done: each(
      (row) => times(row, C, 1.1),
      (row) => row.basis === 'xy' && Number(row.i) + Number(row.j) === 1,
    ),
    named: [/^table-differs: all 3 patches, polynomial: patch \w+ is up to .*the term u\^\d v\^\d is/],
  },
  {
    what: 'every coefficient off by a random hundredth',
    why: 'there is no rule behind it',
    done: ({ rows }) => {
      // a roof is one number: of it any change is a factor
      for (const [k, row] of rows.entries())
        if (row.basis !== 'roof') times(row, C, 1 + 0.01 * Math.sin(12.9898 * (k + 1)));
    },
    named: [/no known misreading explains it/],
  },
  {
    what: 'the linear terms of each pattern turned by 3°, as for another angle of its lines',
    why: 'a turn of any angle is not searched for',
    done: turnedTerms((3 * Math.PI) / 180),
    named: [/no known misreading explains it/],
  },
  {
    what: 'the table of another revision: references moved',
    why: 'the design that it belongs to is not at hand',
    done: (table) => {
      table.rows = tableOf(
        RETURNED.replace('at: [40, 90, 1800]', 'at: [40, 92, 1800]').replace(
          'at: [90, 20, 130]',
          'at: [90, 20.5, 130]',
        ),
      ).rows;
    },
    named: [/no known misreading explains it/],
  },
];
