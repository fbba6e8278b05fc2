/**
 * Rule bias-cancels at its limit: the return shows the fringes asked for to 0.05 of a fringe, or of what was asked where that is more
 * than one. A cube keeps what runs across its line and turns round what runs along it, so that of a tilt of N fringes at the angle ψ
 * to the line N sin²ψ are seen, and of a roof N times the larger of sin²ψ and cos²ψ; a ball keeps all (by the doubled passage B(P) + B(P*)).
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Fact, type Said, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.biasCancels, severity: 'error', unit: 'fringes' } as const;
const LINE = 20;
const DEGREE = Math.PI / 180;

const scene = (reference: Words, patch: Words, bias: Words): Words => ({
  interferometer: { collimated: true, direction: [0.1, 0.3, 1] },
  references: [{ id: 'r', diameter: 38.1, at: [0, 0, 1000], ...reference }],
  patches: [
    {
      id: 'p',
      reference: 'r',
      centre: [0, 0],
      outline: { rectangle: { width: 10, height: 10, rotation: LINE } },
      ...patch,
      bias,
    },
  ],
});
const onCube = (bias: Words): Words => scene({ kind: 'smr' }, { focus: 'line', lineAngle: LINE }, bias);
const onBall = (bias: Words): Words =>
  scene({ kind: 'ball', diameter: 12.7, at: [0, 0, 200] }, { focus: 'point' }, bias);
/** Beyond the doubled passage: what the turned rays' longer way adds, fringes. */
const TRACED = 0.002;
const said = (fringes: number, seen: number): Said[] => [
  { where: 'p', value: seen, within: TRACED * Math.max(1, fringes), limit: fringes },
];

const CUBE = table('a line focus on a cube', LAW, () => {
  /** Of which this share is seen, by its angle to the line. */
  const tilt = (fringes: number, share: number): Words =>
    onCube({ shape: 'tilt', fringes, direction: LINE + Math.asin(Math.sqrt(share)) / DEGREE });
  const roof = (fringes: number, share: number): Words =>
    onCube({ shape: 'roof', fringes, direction: LINE + Math.acos(Math.sqrt(share)) / DEGREE });
  const around = (fringes: number, missing: number): Fact[] => {
    const [kept, broken] = [(fringes - missing) / fringes + 0.005, (fringes - missing) / fringes - 0.005];
    return [
      [`a tilt of ${fringes}: a little less than ${missing} missing`, tilt(fringes, kept), []],
      [
        `a tilt of ${fringes}: a little more than ${missing} missing`,
        tilt(fringes, broken),
        said(fringes, fringes * broken),
      ],
      [`a roof of ${fringes}: a little less than ${missing} missing`, roof(fringes, kept), []],
      [
        `a roof of ${fringes}: a little more than ${missing} missing`,
        roof(fringes, broken),
        said(fringes, fringes * broken),
      ],
    ];
  };
  return [
    ['a roof along the line, as is the default', onCube({ shape: 'roof', fringes: 1 }), []],
    [
      'a tilt along the line, as is the default: none is seen',
      onCube({ shape: 'tilt', fringes: 1 }),
      said(1, 0),
    ],
    ['a tilt across the line', tilt(2, 1), []],
    ['a twentieth of a fringe that is not seen', onCube({ shape: 'tilt', fringes: 0.049 }), []],
    ['a little more than a twentieth', onCube({ shape: 'tilt', fringes: 0.051 }), said(0.051, 0)],
    ...around(0.5, 0.05),
    ...around(1, 0.05),
    ...around(4, 0.2),
  ];
});

const OTHERS = table('what keeps all, and what is not asked', LAW, () => {
  // A ray through the apex goes back along itself: a point focus on a cube keeps every bias, as on a ball.
  const throughApex = (bias: Words): Words => scene({ kind: 'smr' }, { focus: 'point' }, bias);
  return [
    ['a tilt on a ball', onBall({ shape: 'tilt', fringes: 3, direction: 70 }), []],
    ['a roof on a ball', onBall({ shape: 'roof', fringes: 3, direction: 70 }), []],
    ['a tilt through a cube’s apex', throughApex({ shape: 'tilt', fringes: 3, direction: 70 }), []],
    ['a roof through a cube’s apex', throughApex({ shape: 'roof', fringes: 3, direction: 70 }), []],
    [
      'a screen, which shows no fringes',
      scene({ kind: 'screen' }, { focus: 'point' }, { shape: 'tilt', fringes: 1 }),
      [],
    ],
  ];
});

export const BIAS: readonly Table[] = [CUBE, OTHERS];
