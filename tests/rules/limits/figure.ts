/**
 * What misalignment leaves in the measured figure: a beam 0.1 mm off in x leaves 1.68 nm rms by a trace that shares no code with the project
 * (all other causes together 0.3 nm); three patches that see nothing along x leave a decentre of 1 mm/√3 to the eye, 14 nm by the
 * third order, δ a³/(2R³)/√72.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { parabolaScene } from '../../metrology/support/parabola-scene.ts';
import { type Said, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const WITH_REST = Math.hypot(1.68, 0.3);
/** Of the trace, which is not of first order only. */
const WITHIN = 0.05;
const BY_EYE = 14.3;

const beamOff = (figure: string | undefined): Words => {
  const words = parabolaScene({ test: figure === undefined ? {} : { figure } });
  const rest = { y: '1e-9 mm', z: '1e-9 mm', rx: '1e-6 urad', ry: '1e-6 urad' };
  return {
    ...words,
    interferometer: { ...(words.interferometer as Words), placed: { x: '0.1 mm', ...rest } },
  };
};
const blind = (figure: string): Words => parabolaScene({ patches: [0], test: { figure } });

const LEFT = table(
  'what misalignment leaves in the figure',
  { rule: RULE.missesFigure, severity: 'error', unit: 'nm' },
  () => [
    ['kept', beamOff('400 nm'), []],
    [
      // These patches hold the tilt to some milliradians only, and astigmatism grows with its square.
      'kept once the null of the surface itself shows few fringes',
      beamOff('1.8 nm'),
      [{ where: 'test.figure', severity: 'warning', limit: 1.8, figures: ['1.7 nm once', 'few fringes'] }],
    ],
    [
      'missed',
      beamOff('1.6 nm'),
      [
        {
          where: 'test.figure',
          value: WITH_REST,
          within: WITHIN,
          limit: 1.6,
          figures: ['1.6 nm', 'mostly x'],
        },
      ],
    ],
    ['nothing asked of it', beamOff(undefined), []],
    ['no surface under test', { ...beamOff('0.1 nm'), test: undefined }, []],
  ],
);

const UNSEEN = table(
  'a motion that nothing bounds and that leaves something',
  { rule: RULE.missesFigure, severity: 'error' },
  () => [
    [
      'more than is allowed, set by eye',
      blind('10 nm'),
      [{ where: 'test.figure', figures: ['along x', `(${BY_EYE.toFixed(0)}.`] }],
    ],
    [
      'less than that, with the beam as it was placed',
      blind('60 nm'),
      [{ where: 'test.figure', severity: 'warning', figures: ['along x'] }],
    ],
  ],
);

const inPart = (count: number): Said[] => Array.from({ length: count }, () => ({ where: 'part' }));

/** Only `wanted` makes an error of a degree that is not observed: what that leaves in the figure is this file's rule's matter. */
const ONCE = table(
  'what is not observed where only a figure is asked',
  { rule: RULE.notObserved, severity: 'warning' },
  () => [
    ['three readings, a decentre unseen: an error of the figure already', blind('10 nm'), inPart(3)],
    ['no patches at all', parabolaScene({ patches: [], test: { figure: '10 nm' } }), inPart(6)],
  ],
);

export const FIGURE: readonly Table[] = [LEFT, UNSEEN, ONCE];
