/** What carries a reference, the part or a mount of its own, and what is said where the scenario leaves it open. */
import type { Words } from '../../metrology/support/design-from.ts';
import { parabolaScene } from '../../metrology/support/parabola-scene.ts';
import { type Fact, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const PLACED = { focus: [0, 0, -500], fNumber: 3.2, placed: { z: '20 um' } };

/** Three retroreflectors, each measured along x, y and z. */
const scene = (frames: readonly (string | undefined)[], more: Words = {}): Words => {
  const places = [
    [100, 0, 0],
    [-50, 86, 0],
    [-50, -86, 0],
  ];
  return {
    interferometer: PLACED,
    part: { origin: [0, 0, 700] },
    references: places.map(([x, y, z], k) => ({
      ...{ id: `r${k}`, kind: 'smr', diameter: 38.1 },
      ...(frames[k] === undefined ? {} : { frame: frames[k] }),
      at: [x, y, frames[k] === 'part' ? z : 700],
    })),
    measurements: places.flatMap((_, k) =>
      [0, 1, 2].map((axis) => ({
        ...{ id: `r${k}-${axis}`, reference: `r${k}`, uncertainty: '5 um' },
        direction: [0, 1, 2].map((other) => (other === axis ? 1 : 0)),
      })),
    ),
    ...more,
  };
};

const ALL_MOUNTS = ['substrate', 'substrate', 'substrate'];

/** Towers that are read, and retroreflectors on the part that only a tracker sees. */
const tracked = (more: Words): Words => {
  const towers = scene(ALL_MOUNTS, more);
  const seen = [0, 1, 2].map((k) => ({
    ...{ id: `t${k}`, kind: 'smr', diameter: 38.1, frame: 'part' },
    at: [80 * k, 90 - 60 * k, 40],
  }));
  return { ...towers, references: [...(towers.references as Words[]), ...seen] };
};

const ALL_PART = ['part', 'part', 'part'];
const wanted = { x: '10 um', rz: '1 mrad' };

/** References in the substrate frame, as long as nothing says otherwise, beside a surface under test. */
function testedAt(test: Words): Words {
  const words = parabolaScene({ test });
  return {
    ...words,
    references: (words.references as Words[]).map(({ frame: _, at, ...rest }) => {
      const [x, y] = at as number[];
      return { ...rest, at: [x, y, 2600] };
    }),
  };
}

const UNSAID = table('what carries a reference', { rule: RULE.mountNotSaid, severity: 'warning' }, () => {
  const facts: readonly Fact[] = [
    ['two of three do not say it', scene([undefined, 'part', undefined], { wanted }), [{ where: 'r0' }]],
    ['no wish depends on it', scene([undefined, undefined, undefined]), []],
    ['a figure depends on it', testedAt({ figure: '5 nm' }), [{ where: 'c0' }]],
    ['a surface is tested, no figure asked', testedAt({}), []],
    ['the part carries all', scene(ALL_PART, { wanted }), []],
    ['each stands on a mount of its own', scene(ALL_MOUNTS, { wanted }), []],
  ];
  return facts;
});

const MOUNTS = table('a part that nothing tells of', { rule: RULE.notObserved, severity: 'warning' }, () => {
  const facts: readonly Fact[] = [
    ['all on mounts', scene(ALL_MOUNTS), [{ where: 'part' }]],
    ['all on mounts, and wanted', scene(ALL_MOUNTS, { wanted }), [{ where: 'wanted.x', severity: 'error' }]],
    ['all on the part', scene(ALL_PART, { wanted }), []],
    ['a tracker finds the part from what it carries', tracked({}), [{ where: 'part', severity: 'note' }]],
    ['a tracker job with a wish', tracked({ wanted }), [{ where: 'wanted.x', severity: 'warning' }]],
    // One point at (100, 0, 0) shows x alone: y goes with a turn about z, z with one about y, and the turn about x is not seen.
    [
      'one on the part, two on mounts',
      scene(['part', 'substrate', 'substrate']),
      ['y', 'z', 'rx', 'ry', 'rz'].map(() => ({ where: 'part' })),
    ],
  ];
  return facts;
});

export const CARRIERS: readonly Table[] = [UNSAID, MOUNTS];
