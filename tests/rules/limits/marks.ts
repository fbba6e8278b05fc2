/**
 * Marks on the glass at their limits: crosses of 2 mm with their middles where the words say. mm; strokes in micrometres. Gaps are those
 * of the upright box around a mark, by hand.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Said, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.markClash, severity: 'error' } as const;
const NM = 1e-6;
/** Only the crosses, at these places. */
const crosses = (...fiducials: readonly (readonly [number, number])[]): Words => ({
  fiducials,
  ...{ orientation: 'none', patches: 'none', drawing: 'none', side: 'none', serial: 'none', bars: 'none' },
});
const NONE = { ...crosses(), fiducials: 'none' };
const GLASS = { outline: { rectangle: { width: 100, height: 100 } }, edgeMargin: 2, clearance: 0.5 };
/** A square patch of 10 mm in the middle. */
const scene = (marks: Words | string, more: Words = {}): Words => ({
  substrate: GLASS,
  references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 200] }],
  patches: [
    {
      ...{ id: 'p', reference: 'r', focus: 'point', centre: [0, 0] },
      outline: { rectangle: { width: 10, height: 10 } },
    },
  ],
  marks,
  ...more,
});
/** `other`: what the message names. */
const gap = (other: string, value: number, limit: number): Said => ({
  ...{ where: 'marks.fiducials', value, limit, unit: 'mm' },
  figures: [other],
});

const PLACES = table('a cross on the glass', LAW, () => {
  const inside = (margin: number) => scene(crosses([50 - 1 - margin, 30]));
  const beside = (apart: number) => scene(crosses([0, 5 + 1 + apart]));
  const keepOuts = [{ id: 'k', outline: { circle: { diameter: 20, centre: [-30, 0] } } }];
  const above = (apart: number) => scene(crosses([-30, 10 + 1 + apart]), { keepOuts });
  const seat = (face: string) => [
    { ...{ id: 's', kind: 'ball', diameter: 4, at: [30, 0], face }, footprint: 4 },
  ];
  const bySeat = (apart: number, face: string) =>
    scene(crosses([30 + 2 + 1 + apart, 0]), { seats: seat(face) });
  const pair = (apart: number) => scene(crosses([30, 30], [32 + apart, 30]));
  return [
    ['the margin from the edge', inside(2), []],
    ['a nanometre less', inside(2 - NM), [gap('edge', 2 - NM, 2)]],
    ['a nanometre over the edge', inside(-NM), [gap('edge', -NM, 2)]],
    ['the clearance from a patch', beside(0.5), []],
    ['a nanometre nearer', beside(0.5 - NM), [gap('patch p', 0.5 - NM, 0.5)]],
    ['a nanometre into it', beside(-NM), [gap('patch p', -NM, 0.5)]],
    ['the clearance from a keep-out', above(0.5), []],
    ['a nanometre nearer to it', above(0.5 - NM), [gap('keep-out k', 0.5 - NM, 0.5)]],
    ['the clearance from a seat of its face', bySeat(0.5, 'part'), []],
    ['a nanometre nearer to that', bySeat(0.5 - NM, 'part'), [gap('seat s', 0.5 - NM, 0.5)]],
    ['under a seat of the other face', bySeat(-3, 'interferometer'), []],
    ['touching another cross', pair(0), []],
    ['a nanometre into another cross', pair(-NM), [gap('mark F1', -NM, 0)]],
  ];
});

const STROKES = table('strokes', { ...LAW, unit: 'µm', limit: 20 }, () => {
  const letters = (height: number) =>
    scene({ ...NONE, side: [0, -40], height }, { process: { minFeature: '20 um' } });
  return [
    ['letters of seven least features', letters(0.14), []],
    [
      'letters lower by seven nanometres times two',
      letters(0.14 - 14 * NM),
      [{ where: 'marks.side', value: 19.998 }],
    ],
    [
      'marks placed by the program',
      scene('auto', { process: { minFeature: '20 um' }, drawing: { number: 7 } }),
      [],
    ],
    [
      'and where nothing fine can be written',
      scene('auto', { process: { minFeature: '200 um' }, drawing: { number: 7 } }),
      [],
    ],
  ];
});

const LEFT_OUT = table('marks left out', { ...LAW, severity: 'warning' }, () => {
  const small = { ...GLASS, outline: { rectangle: { width: 14, height: 14 } } };
  const one = (marks: Words, more: Words = {}) => scene({ ...NONE, ...marks }, more);
  return [
    ['no marks are asked for', { ...scene('auto'), marks: undefined }, []],
    ['a drawing number, given', one({ drawing: 'auto' }, { drawing: { number: 'HT-1' } }), []],
    ['a drawing number, not given', one({ drawing: 'auto' }), [{ where: 'marks.drawing' }]],
    [
      'one with a letter that has no form',
      one({ drawing: 'auto' }, { drawing: { number: 'Ω1' } }),
      [{ where: 'marks.drawing' }],
    ],
    [
      'glass with a rim of 2 mm around the patch',
      one({ side: 'auto' }, { substrate: small }),
      [{ where: 'marks.side' }],
    ],
    [
      'the number of that patch',
      one({ patches: 'auto' }, { substrate: small }),
      [{ where: 'marks.patches' }],
    ],
  ];
});

export const MARKS = [PLACES, STROKES, LEFT_OUT];
