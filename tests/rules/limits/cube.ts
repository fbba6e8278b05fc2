/**
 * How a cube must stand: within its acceptance of each chief ray (30° by common practice, no source), no edge within 5° of a line.
 * Degrees. Seen along the cube's axis the three edges stand 120° apart; a line has two ends, so that it meets one every 60°.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const DEGREE = Math.PI / 180;
/** What a designer can tell of an angle, well over the rounding that the rule allows. */
const BIT = 1e-4;
const DISTANCE = 1000;

/** One cube on the axis, as its own words have it, and a 10 mm patch for each line: where it stands, and its angle. */
const scene = (
  cube: Words,
  lines: readonly { readonly at?: readonly [number, number]; readonly angle?: number }[],
): Words => ({
  interferometer: { collimated: true, direction: [0.1, 0.3, 1] },
  substrate: { outline: { rectangle: { width: 4000, height: 400 } } },
  references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [0, 0, DISTANCE], ...cube }],
  patches: lines.map(({ at = [0, 0], angle = 0 }, k) => ({
    id: `p${k + 1}`,
    reference: 'r',
    focus: 'line',
    centre: at,
    lineAngle: angle,
    outline: { rectangle: { width: 10, height: 10, rotation: angle } },
  })),
});

const limits = { rule: RULE.cubeTurned, severity: 'error', unit: 'deg' } as const;

const FACING = table('the direction that it faces', limits, () => {
  /** Turned away from the one patch that looks at it; rolled clear of the line. */
  const turned = (angle: number, more: Words = {}): Words =>
    scene({ axis: [Math.sin(angle * DEGREE), 0, -Math.cos(angle * DEGREE)], roll: 0, ...more }, [
      { angle: 30 },
    ]);
  const said = (value: number, limit: number) => [{ where: 'p1', value, limit, within: 1e-6 }];
  /** Two patches from which the cube is seen at so many degrees either side of the mean. */
  const pair = (angle: number, more: Words = {}): Words => {
    const x = DISTANCE * Math.tan(angle * DEGREE);
    return scene(more, [
      { at: [x, 0], angle: 90 },
      { at: [-x, 0], angle: 90 },
    ]);
  };
  const both = (value: number, limit: number) =>
    ['p1', 'p2'].map((where) => ({ where, value, limit, within: 1e-6 }));
  // Two patches straight below and one at 45°: the mean of the unit vectors leans over by atan(sin 45°/(2 + cos 45°)).
  const leaning = Math.atan(Math.SQRT1_2 / (2 + Math.SQRT1_2)) / DEGREE;
  const threefold = scene({}, [
    { at: [0, 20], angle: 0 },
    { at: [0, -20], angle: 0 },
    { at: [DISTANCE, 0], angle: 90 },
  ]);
  return [
    ['30° away from its patch', turned(30), []],
    ['a bit more than 30°', turned(30 + BIT), said(30 + BIT, 30)],
    ['turned right away', turned(180), said(180, 30)],
    ['an acceptance of its own, kept', turned(20, { acceptance: '20 deg' }), []],
    ['an acceptance of its own, not kept', turned(20 + BIT, { acceptance: 20 }), said(20 + BIT, 20)],
    ['a wider acceptance of its own, kept', turned(40, { acceptance: 40 }), []],
    ['a wider one not kept', turned(40 + BIT, { acceptance: 40 }), said(40 + BIT, 40)],
    ['by default it faces the mean of its patches: 30° either side', pair(30), []],
    ['a bit more either side: each patch is told', pair(30 + BIT), both(30 + BIT, 30)],
    ['25° either side within an acceptance of 24°', pair(25, { acceptance: 24 }), both(25, 24)],
    [
      'of three patches the odd one is the farthest from the mean',
      threefold,
      [{ where: 'p3', value: 45 - leaning, limit: 30, within: 0.02 }],
    ],
  ];
});

const EDGES = table('an edge along the line', limits, () => {
  /** Facing the patch squarely, where the edges lie at minus the roll (seen from the part the other way round) every 60°. */
  const rolled = (line: number, roll: number): Words => scene({ axis: [0, 0, -1], roll }, [{ angle: line }]);
  const said = (value: number) => [{ where: 'p1', value, limit: 5, within: 1e-6 }];
  return [
    ['5° beside an edge', rolled(5, 0), []],
    ['a bit less than 5°', rolled(5 - BIT, 0), said(5 - BIT)],
    ['along the edge', rolled(0, 0), said(0)],
    ['5° on the other side', rolled(-5, 0), []],
    ['a bit less on the other side', rolled(-5 + BIT, 0), said(5 - BIT)],
    ['the next edge, 60° on', rolled(60 + 4, 0), said(4)],
    ['the one after, 120° on', rolled(120 - 3, 0), said(3)],
    ['midway between two', rolled(30, 0), []],
    ['the roll turns the edges, seen from the part, back', rolled(-20 + 4, 20), said(4)],
    ['not forward', rolled(20 + 4, 20), []],
    ['a quarter of a turn more of both is the same', rolled(70 + 4, -70), said(4)],
    [
      'turned away and along an edge: both are told',
      scene({ axis: [0, Math.sin(31 * DEGREE), -Math.cos(31 * DEGREE)], roll: 90 }, [{ angle: 90 }]),
      [
        { where: 'p1', value: 31, limit: 30, within: 1e-6 },
        { where: 'p1', value: 0, limit: 5, within: 1e-5 },
      ],
    ],
  ];
});

const BEST_ROLL = table('a roll that is not given is the best', limits, () => {
  const facing = { axis: [0, 0, -1] };
  const fan = (...angles: readonly number[]): Words =>
    scene(
      facing,
      angles.map((angle) => ({ angle })),
    );
  return [
    ['one line, where a roll of 0 has an edge', fan(0), []],
    ['three lines with edges between them', fan(0, 20, 40), []],
  ];
});

export const CUBE_TURNED: readonly Table[] = [FACING, EDGES, BEST_ROLL];
