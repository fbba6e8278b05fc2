/** Misreadings of a whole table of which one patch has another besides: one finding for what all share, one for what is more. */
import {
  C,
  careless,
  each,
  inOrder,
  isPhase,
  isTerm,
  LENGTHS,
  lengths,
  phases,
  times,
  without,
} from './damage.ts';
import type { Misreading } from './misread-numbers.ts';

export const SHARED: readonly Misreading[] = [
  {
    what: 'two of three patches negated: one finding',
    done: each(
      (row) => times(row, C, -1),
      (row) => isPhase(row) && row.patch !== 'second',
    ),
    named: [/^table-misread: 2 patches \(ridge and behind\): sign flipped; patch (ridge|behind) is up to/],
  },
  {
    what: 'all mirrored, and one of them negated: what all have, and what that one has more',
    done: inOrder(
      careless('x-mirrored'),
      each(
        (row) => times(row, C, -1),
        ({ patch }) => patch === 'second',
      ),
    ),
    named: [
      /^table-misread: all 3 patches: x mirrored; patch/,
      /^table-misread: patch second: moreover, sign flipped; up to/,
    ],
  },
  {
    what: 'lengths in inches throughout, and a row of one patch left out',
    done: inOrder(lengths(LENGTHS, 1 / 25.4), without(isTerm('behind', '1', '1'))),
    named: [
      /^table-misread: all 3 patches: the lengths .* are in inches, read as millimetres; patch/,
      /^table-incomplete: patch behind, polynomial: moreover, the row of the term u\^1 v\^1 is left out; up to/,
    ],
  },
  {
    what: 'radians throughout, and a decimal point of one coefficient lost',
    done: inOrder(
      phases(() => 2 * Math.PI),
      each((row) => times(row, C, 10), isTerm('behind', '1', '1')),
    ),
    named: [
      /^table-misread: all 3 patches: radians given as waves.*; patch/,
      /^table-misread: patch behind, polynomial: moreover, the decimal point in the coefficient of the term u\^1 v\^1 is 1 place too far to the right; up to/,
    ],
  },
  {
    what: 'y mirrored throughout, and the sign of one coefficient',
    done: inOrder(
      careless('y-mirrored'),
      each((row) => times(row, C, -1), isTerm('behind', '2', '0')),
    ),
    named: [
      /^table-misread: all 3 patches: y mirrored; patch/,
      /^table-misread: patch behind, polynomial: moreover, the sign of the coefficient of the term u\^2 v\^0 is flipped; up to/,
    ],
  },
  {
    what: 'magnified throughout, and the sign of a patch of order -1: each name of it',
    done: inOrder(
      lengths(LENGTHS, 1.0005),
      each(
        (row) => times(row, C, -1),
        (row) => isPhase(row) && row.patch === 'behind',
      ),
    ),
    named: [
      /^table-misread: all 3 patches: magnified about the origin.*, 1\.0005; patch/,
      /^table-misread: patch behind: moreover, order ignored.*; or order applied twice.*; or sign flipped \(equivalent here\); up to/,
    ],
  },
  {
    what: 'the sign of the phase throughout, and a centre moved',
    done: inOrder(
      phases(() => -1),
      each(
        (row) => {
          row.centreX_mm = String(1 + Number(row.centreX_mm));
        },
        ({ patch }) => patch === 'second',
      ),
    ),
    named: [
      /^table-misread: all 3 patches: sign flipped; patch/,
      /^table-misread: patch second: moreover, the centre is shifted by \(1, 0\) mm; up to/,
    ],
  },
];
