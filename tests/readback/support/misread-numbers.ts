/** Misreadings of lengths, phases and axes: what is done to a good table, and what must be said of it. */

import { C, CENTRE, careless, each, inOrder, LENGTHS, lengths, phases, RADIUS, times } from './damage.ts';
import type { Change } from './returned-table.ts';

export interface Misreading {
  readonly what: string;
  readonly done: Change;
  /** One for each finding. */
  readonly named: readonly RegExp[];
}

const WHOLE = '^table-misread: the whole table has been misread: ';
export const whole = (words: string): readonly RegExp[] => [new RegExp(`${WHOLE}${words}; patch`)];

export const OF_NUMBERS: readonly Misreading[] = [
  {
    what: 'lengths in inches under mm heads',
    done: lengths(LENGTHS, 1 / 25.4),
    named: whole('the lengths \\(centres and normalisation radii\\) are in inches, read as millimetres'),
  },
  {
    what: 'lengths in inches, with four decimals',
    done: each((row) => {
      for (const column of LENGTHS) row[column] = (Number(row[column]) / 25.4).toFixed(4);
    }),
    named: [/table-misread: .*in inches, read as millimetres/],
  },
  {
    what: 'lengths in micrometres under mm heads',
    done: lengths(LENGTHS, 1000),
    named: whole('the lengths \\(centres and normalisation radii\\) are in micrometres, read as millimetres'),
  },
  {
    what: 'the radius alone in inches',
    done: lengths([RADIUS], 1 / 25.4),
    named: whole('the normalisation radius alone is in inches, read as millimetres'),
  },
  {
    what: 'the centres alone in inches',
    done: lengths(CENTRE, 1 / 25.4),
    named: whole('the centre alone is in inches, read as millimetres'),
  },
  {
    what: 'the diameter for the radius',
    done: lengths([RADIUS], 2),
    named: whole('diameter given as radius.*'),
  },
  {
    what: 'all lengths magnified for the shrinkage of a process',
    done: lengths(LENGTHS, 1.0005),
    named: whole('magnified about the origin: all lengths are scaled by the same factor, 1.0005'),
  },
  {
    what: 'the centres left out',
    done: lengths(CENTRE, 0),
    named: whole('the centre is left out: 0, 0'),
  },
  {
    what: 'the sign of centreX alone',
    done: lengths(['centreX_mm'], -1),
    named: whole('the sign of centreX is flipped, the pattern itself is not mirrored'),
  },
  {
    what: 'the origin at a corner of the blank',
    done: each((row) => {
      for (const column of CENTRE) row[column] = String(Number(row[column]) + 75);
    }),
    named: whole('the centre is shifted by \\(75, 75\\) mm'),
  },
  {
    what: 'a roof scaled',
    done: each(
      (row) => times(row, C, 1.5),
      ({ basis, index }) => basis === 'roof' && index === '0',
    ),
    named: [/^table-misread: patch ridge, roof: its height is 1\.5 times the design’s; /],
  },
  {
    what: 'the whole column scaled, a roof’s plain numbers with it',
    done: each((row) => times(row, C, 1.3)),
    named: whole('every coefficient scaled by the same factor, 1\\.3'),
  },
  {
    what: 'a double pass',
    done: phases(() => 2),
    named: whole('phase doubled: as for a double pass.*'),
  },
  {
    what: 'a double pass taken out',
    done: phases(() => 0.5),
    named: whole('phase halved: .*'),
  },
  {
    what: 'the vacuum wavelength for that in air',
    done: phases(() => 1 / 1.0002713),
    named: whole('waves of the vacuum wavelength given for waves in air.*, 0\\.9997\\d+'),
  },
  { what: 'the sign of the phase', done: phases(() => -1), named: whole('sign flipped') },
  {
    what: 'the sign of the order',
    done: each((row) => times(row, 'order', -1)),
    named: [
      /^table-misread: patch ridge is for order -1; the design’s working order is \+1/,
      /^table-misread: patch second is for order -2/,
      /^table-misread: patch behind is for order \+1/,
    ],
  },
  {
    what: 'radians for waves',
    done: phases(() => 2 * Math.PI),
    named: whole('radians given as waves: 2 pi times too large'),
  },
  { what: 'degrees for waves', done: phases(() => 360), named: whole('degrees given as waves.*') },
  {
    what: 'nanometres for waves',
    done: phases(() => 632.8),
    named: whole('nanometres of path given as waves'),
  },
  { what: 'x mirrored', done: careless('x-mirrored'), named: whole('x mirrored') },
  { what: 'y mirrored', done: careless('y-mirrored'), named: whole('y mirrored') },
  {
    what: 'turned by 180°',
    done: careless('x-mirrored', 'y-mirrored'),
    named: whole('turned by 180° \\(x mirrored, and y mirrored\\)'),
  },
  { what: 'powers of x and y exchanged', done: careless('x-y-swapped'), named: whole('x and y swapped') },
  {
    // (x, y) → (−y, x): what stood at x stands at y
    what: 'turned by 90°, centres and all',
    done: inOrder(
      careless('x-y-swapped', 'x-mirrored'),
      each((row) => {
        [row.centreX_mm, row.centreY_mm] = [String(-Number(row.centreY_mm)), row.centreX_mm!];
      }),
    ),
    named: whole('turned by 90° counter-clockwise.*'),
  },
];
