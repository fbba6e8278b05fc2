/** What reads the hologram's place against the beam: a return ring, a collimated beam, or the scenario's word for it. */
import type { Words } from '../../metrology/support/design-from.ts';
import { parabolaScene } from '../../metrology/support/parabola-scene.ts';
import { type Fact, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.unaligned, severity: 'warning' } as const;

const KNOWN = table('the hologram’s place against the beam', LAW, () => {
  const bench = (more: Words = {}): Words => ({
    interferometer: { focus: [0, 0, -500], fNumber: 3.2, ...more },
    wanted: { x: '10 um' },
  });
  const ring: Words = {
    references: [{ id: 'home', kind: 'return' }],
    patches: [
      {
        id: 'p',
        reference: 'home',
        focus: 'return',
        centre: [0, 0],
        outline: { ring: { inner: 90, outer: 100 } },
      },
    ],
  };
  const facts: readonly Fact[] = [
    ['nothing reads it', bench(), [{ where: 'interferometer.placed', figures: ['100 µm', '200 µrad'] }]],
    ['no wish depends on it', { interferometer: { focus: [0, 0, -500], fNumber: 3.2 } }, []],
    [
      'a figure depends on it',
      { ...parabolaScene({ test: { figure: '5 nm' } }) },
      [{ where: 'interferometer.placed' }],
    ],
    ['a surface is tested, no figure asked', parabolaScene(), []],
    ['a return ring reads it', { ...bench(), ...ring }, []],
    [
      'a plate nulls in a collimated beam',
      { interferometer: { collimated: true }, wanted: { x: '10 um' } },
      [],
    ],
    ['it is stated', bench({ placed: { z: '20 um' } }), []],
  ];
  return facts;
});

export const ALIGNMENT: readonly Table[] = [KNOWN];
