/** The marks on the glass: all of them by one word, or each by its own. mm. */
import type { MarkKind, MarkWish, MarkWishes } from '../../scenario/marks.ts';
import { assemble, assembleList, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { POSITIVE, point2, quantity } from '../yaml/values.ts';

const ALL: MarkWishes = {
  fiducials: 'auto',
  orientation: 'auto',
  patches: 'auto',
  drawing: 'auto',
  side: 'auto',
  serial: 'auto',
  bars: 'auto',
  height: undefined,
};

export function buildMarks(field: Field): Read<MarkWishes> {
  if (field.value === 'auto') return ALL;
  if (typeof field.value !== 'object') return FAULTY;
  const one = (kind: MarkKind): Read<MarkWish> =>
    wishOf(field.get(kind), (given) => {
      const at = point2(given);
      return at === FAULTY ? FAULTY : [at];
    });
  return assemble<MarkWishes>({
    fiducials: wishOf(field.get('fiducials'), (given) =>
      assembleList(given.items().map((item) => point2(item))),
    ),
    orientation: one('orientation'),
    patches: wishOf(field.get('patches'), () => FAULTY),
    drawing: one('drawing'),
    side: one('side'),
    serial: one('serial'),
    bars: one('bars'),
    height: quantity(field.get('height'), 'length', POSITIVE, undefined),
  });
}

function wishOf(field: Field, placed: (field: Field) => Read<MarkWish>): Read<MarkWish> {
  const { value = 'auto' } = field;
  return value === 'auto' || value === 'none' ? value : placed(field);
}
