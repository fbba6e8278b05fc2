/**
 * Rule blocked at its limit, none of the light: a solid beside a patch's cone of light, then in it. mm. The cone's edge is a straight
 * line from the patch's rim to the ball's centre; distances from it by Pythagoras, shares by where the shadow's edge falls.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Said, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.blocked, severity: 'error', limit: 0, unit: '%' } as const;
/** Into the light: less than a twentieth of a millimetre is let pass, no fringe shows such a nick. */
const NICK = 0.12;
const CLEAR = 0.01;

/** A round patch of 10 mm, its ball of 12 mm straight above at 200 mm: at the height z the light is 5(1 − z/200) in radius. */
const scene = (more: Words, envelope: readonly Words[] = []): Words => ({
  interferometer: { collimated: true, direction: [0.1, 0.3, 1] },
  part: { envelope },
  references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 200] }],
  patches: [
    { id: 'p', reference: 'r', focus: 'point', centre: [0, 0], outline: { circle: { diameter: 10 } } },
  ],
  ...more,
});
const SLOPE = Math.hypot(5, 200);
/** x of a sphere's centre at the height z whose surface is `gap` beside the cone's edge. */
const besideCone = (z: number, diameter: number, gap: number): number =>
  5 * (1 - z / 200) + ((diameter / 2 + gap) * SLOPE) / 200;
const nick: Said = { where: 'p', value: 3, within: 3 };

const ENVELOPE = table('the part’s envelope', LAW, () => {
  const sphere = (gap: number, diameter = 8) =>
    scene({}, [{ sphere: { centre: [besideCone(100, diameter, gap), 0, 100], diameter } }]);
  // A wall of 1 mm with its edge at x, from z = 100 up: the light's edge is nearest at its lower side, x = 2.5.
  const wall = (x: number): Words => ({ box: { corner: [x, -50, 100], size: [100, 100, 1] } });
  /** Share of a circle of unit radius beyond x. */
  const beyond = (x: number): number => (Math.acos(x) - x * Math.sqrt(1 - x * x)) / Math.PI;
  // Carried 30 mm aside and up by the part's frame, and turned: a wall's edge lies where its corner was put.
  const carried = (aside: number): Words =>
    scene({
      part: {
        origin: [aside, 0, 100],
        rotation: [0, 0, 180],
        envelope: [{ box: { corner: [-100, -50, 0], size: [100, 100, 1] } }],
      },
    });
  return [
    ['a sphere just beside the light', sphere(CLEAR), []],
    ['a sphere just in it', sphere(-NICK), [nick]],
    ['a larger sphere just beside the light', sphere(CLEAR, 30), []],
    ['a larger sphere just in it', sphere(-NICK, 30), [nick]],
    ['a wall just beside it', scene({}, [wall(2.5 + CLEAR)]), []],
    ['a wall just in it', scene({}, [wall(2.5 - NICK)]), [nick]],
    ['a wall over half of it', scene({}, [wall(0)]), [{ where: 'p', value: 50, within: 4 }]],
    [
      'a wall over the part beyond half the radius',
      scene({}, [wall(1.25)]),
      [{ where: 'p', value: 100 * beyond(0.5), within: 3 }],
    ],
    ['a wall across all of it', scene({}, [wall(-50)]), [{ where: 'p', value: 100 }]],
    [
      'two walls, each told',
      scene({}, [wall(0), wall(1)]),
      [
        { where: 'p', figures: ['envelope 1'] },
        { where: 'p', figures: ['envelope 2'] },
      ],
    ],
    ['a wall behind the ball', scene({}, [{ box: { corner: [-50, -50, 210], size: [100, 100, 1] } }]), []],
    ['carried by the part’s frame, just beside', carried(2.5 + CLEAR), []],
    ['carried by the part’s frame, just in it', carried(2.5 - NICK), [nick]],
  ];
});

const BALLS = table('the other references', LAW, () => {
  const other = (gap: number, more: Words = {}) => ({
    id: 'q',
    kind: 'ball',
    diameter: 8,
    at: [besideCone(100, 8, gap), 0, 100],
    ...more,
  });
  const own = { id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 200] };
  const beside = (gap: number, more: Words = {}) => scene({ references: [own, other(gap, more)] });
  return [
    ['a ball just beside the light', beside(CLEAR), []],
    ['a ball just in it', beside(-NICK), [nick]],
    ['an SMR just in it', beside(-NICK, { kind: 'smr' }), [nick]],
    ['a screen without a diameter is no body', beside(-3, { kind: 'screen', diameter: undefined }), []],
    ['the ball that the light goes to is not in its own way', scene({}), []],
    [
      'a wall before a ball’s face blocks it',
      scene({}, [{ box: { corner: [-50, -50, 192.9], size: [100, 100, 1] } }]),
      [{ where: 'p', value: 100 }],
    ],
  ];
});

export const SIGHT: readonly Table[] = [ENVELOPE, BALLS];
