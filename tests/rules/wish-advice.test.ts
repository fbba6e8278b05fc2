/**
 * What misses-wanted advises: designs whose largest cause is known by construction are told that cause, and meet the wish once the words
 * that the advice names have the values it tells. Where it says that no patches can, patches as large as the substrate do not either.
 */
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/finding/finding.ts';
import { missesWanted } from '../../src/rules/misses-wanted.ts';
import { designFrom, linePatch, pointPatch, type Words } from '../metrology/support/design-from.ts';
import { partPose } from '../metrology/support/reported.ts';

const AZIMUTHS = [0.3, 2.4, 4.5];
const around = (radius: number, azimuth: number): [number, number] => [
  radius * Math.cos(azimuth),
  radius * Math.sin(azimuth),
];

/** What a case may change: words of the interferometer, the process, each reference, each measurement; the patches' size, mm. */
interface Changes {
  readonly interferometer?: Words;
  readonly process?: Words;
  readonly reference?: Words;
  readonly measurement?: Words;
  readonly size?: number;
  readonly wanted?: Words;
}
type Scene = (changes: Changes) => Words;

const shared = ({ interferometer = {}, process = {}, wanted = {} }: Changes): Words => ({
  interferometer: {
    focus: [0, 0, -500],
    fNumber: 3.2,
    pixelsAcrossBeam: 1000,
    readable: 0.02,
    ...interferometer,
  },
  process: { placement: '0.01 um', ...process },
  wanted,
});

/** Three balls in seats on a part 150 mm off, a patch each. */
const ballsInSeats: Scene = (changes) => {
  const { reference = {}, size = 12 } = changes;
  return {
    ...shared(changes),
    part: { origin: [0, 0, 150] },
    references: AZIMUTHS.map((azimuth, k) => {
      return {
        id: `b${k}`,
        kind: 'ball',
        diameter: 12.7,
        at: [...around(84, azimuth), 130],
        nest: '0.1 um',
        ...reference,
      };
    }),
    patches: AZIMUTHS.map((azimuth, k) => pointPatch(`p${k}`, `b${k}`, around(60, azimuth), size)),
  };
};

/** The same balls on two datums. */
const ballsOnDatums: Scene = (changes) => {
  const { reference = {} } = changes;
  return {
    ...ballsInSeats(changes),
    part: {
      origin: [0, 0, 150],
      datums: {
        A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
        B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 150, side: 'outside' } },
      },
    },
    references: [20, 140, 260].map((azimuth, k) => {
      return {
        id: `b${k}`,
        kind: 'ball',
        diameter: 12.7,
        touches: [{ datum: 'B', azimuth }, { datum: 'A' }],
        ...reference,
      };
    }),
  };
};

/** Three retroreflectors 900 mm off, three lines each. */
const cubes: Scene = (changes) => {
  const { reference = {}, size = 12 } = changes;
  return {
    ...shared(changes),
    part: { origin: [0, 0, 900] },
    references: AZIMUTHS.map((azimuth, k) => {
      const at = [...around(200, azimuth), 900];
      return {
        id: `c${k}`,
        kind: 'smr',
        diameter: 38.1,
        at,
        nest: '0.1 um',
        centring: '0.1 um',
        ...reference,
      };
    }),
    patches: AZIMUTHS.flatMap((azimuth, k) =>
      [0, 0.5, 1].map((turn, n) => {
        const lineAngle = `${azimuth + 2 * turn} rad`;
        // No longer along its line than the cube sends back.
        const outline = { rectangle: { width: Math.min(size, 12), height: size, rotation: lineAngle } };
        return { ...linePatch(`l${k}${n}`, `c${k}`, around(55, azimuth + turn), 0), lineAngle, outline };
      }),
    ),
  };
};

/** As measured otherwise: no patches at all. */
const measured: Scene = (changes) => {
  const { measurement = {} } = changes;
  return {
    ...cubes(changes),
    patches: [],
    measurements: AZIMUTHS.flatMap((_, k) =>
      ['x', 'y', 'z'].map((axis, n) => {
        const direction = [0, 1, 2].map((j) => (j === n ? 1 : 0));
        return { id: `m${k}${axis}`, reference: `c${k}`, direction, uncertainty: '1 um', ...measurement };
      }),
    ),
  };
};

const missed = (scene: Scene, changes: Changes): readonly Finding[] =>
  missesWanted.find(designFrom(scene(changes)));

const combined = (scene: Scene, changes: Changes, degree: 'x' | 'z' | 'rx'): number =>
  partPose(designFrom(scene(changes))).budget.combined[degree]!;

/** The value that the advice tells for a word, as a scenario would have it. */
const told = (hint: string, word: string): string | number => {
  const [, value, unit] = hint.match(new RegExp(`\\(\`${word}\`\\) of ([\\d.]+) (µm|fringes)`))!;
  return unit === 'fringes' ? Number(value) : `${value} um`;
};

/** By what is made large, which word says it, and how much of it a scene has. */
const CAUSES: readonly [string, Scene, Changes, string, (value: string | number) => Changes][] = [
  [
    'apex centring',
    cubes,
    { reference: { centring: '300 um' } },
    'centring',
    (centring) => ({ reference: { centring } }),
  ],
  ['ball form', ballsInSeats, { reference: { form: '40 um' } }, 'form', (form) => ({ reference: { form } })],
  [
    'ball radius',
    ballsOnDatums,
    { reference: { radiusTolerance: '90 um' } },
    'radiusTolerance',
    (radiusTolerance) => ({ reference: { radiusTolerance } }),
  ],
  ['nest', ballsInSeats, { reference: { nest: '60 um' } }, 'nest', (nest) => ({ reference: { nest } })],
  [
    'reading',
    cubes,
    { interferometer: { readable: 0.8 } },
    'interferometer.readable',
    (readable) => ({ interferometer: { readable } }),
  ],
  [
    'pattern placement',
    ballsInSeats,
    { process: { placement: '8 um' } },
    'process.placement',
    (placement) => ({ process: { placement } }),
  ],
  [
    'measured length',
    measured,
    { measurement: { uncertainty: '70 um' } },
    'uncertainty',
    (uncertainty) => ({ measurement: { uncertainty } }),
  ],
];

describe.each(CAUSES)('%s', (term, scene, large, word, changed) => {
  // What a radius adds along z is told apart by what it adds all round.
  const degree = term === 'ball radius' ? 'x' : 'z';
  const wanted = { [degree]: `${combined(scene, large, degree) / 2} um` };
  const findings = missed(scene, { ...large, wanted });
  const { hint = '' } = findings[0] ?? {};

  test('made large, it is named as the largest term', () => {
    expect(findings).toHaveLength(1);
    expect(hint).toContain(`the largest term is ${term},`);
  });

  test('at the value told, the wish is met, and not by more than its rounding to two digits', () => {
    const value = told(hint, word);
    expect(missed(scene, { ...changed(value), wanted })).toEqual([]);
    const looser = typeof value === 'number' ? value * 1.15 : `${Number.parseFloat(value) * 1.15} um`;
    expect(missed(scene, { ...changed(looser), wanted })).toHaveLength(1);
  });
});

test('where no single term is enough, all that are named together meet the wish', () => {
  const usual: Changes = {
    interferometer: { readable: 0.3 },
    process: { placement: '1 um' },
    reference: { centring: '20 um', nest: '20 um' },
  };
  const wanted = { z: `${combined(cubes, usual, 'z') / 3} um` };
  const hint = missed(cubes, { ...usual, wanted })[0]!.hint!;
  expect(hint).toContain('to meet the wish, all of these: ');
  const followed: Changes = {
    ...usual,
    interferometer: { readable: told(hint, 'interferometer.readable') },
    process: { placement: told(hint, 'process.placement') },
    reference: { centring: told(hint, 'centring'), nest: told(hint, 'nest') },
  };
  expect(missed(cubes, { ...followed, wanted })).toEqual([]);
});

test('fringes read on patches and on the return ring are one cause: both as wide as told meet the wish', () => {
  const scene: Scene = (changes) => {
    const { size = 12 } = changes;
    const before = ballsInSeats({ ...changes, interferometer: { readable: 0.1 } });
    const outline = { ring: { inner: size / 4, outer: size / 2 } };
    const ring = { id: 'ring', reference: 'align', focus: 'return', centre: [0, 0], outline };
    return {
      ...before,
      references: [...(before.references as Words[]), { id: 'align', kind: 'return' }],
      patches: [...(before.patches as Words[]), ring],
    };
  };
  const wanted = { rx: `${combined(scene, {}, 'rx') * 0.8} urad` };
  const hint = missed(scene, { wanted })[0]!.hint!;
  const [, patches] = hint.match(/patches ([\d.]+) times as wide/)!;
  const [, ring] = hint.match(/a return ring ([\d.]+) times as wide/)!;
  expect(patches).toBe(ring);
  expect(missed(scene, { size: 12 * Number(ring), wanted })).toEqual([]);
});

describe('patches', () => {
  const coarse: Changes = { interferometer: { readable: 0.8 } };
  const wish = combined(cubes, coarse, 'z') / 2;

  test('as wide as the advice tells meet a wish that coarse readings miss', () => {
    const [finding] = missed(cubes, { ...coarse, wanted: { z: `${wish} um` } });
    const [, times] = finding!.hint!.match(/or patches ([\d.]+) times as wide/)!;
    expect(missed(cubes, { ...coarse, size: 12 * Number(times), wanted: { z: `${wish} um` } })).toEqual([]);
  });

  test.each<[string, Scene, Changes]>([
    ['seats', ballsInSeats, { reference: { nest: '60 um' } }],
    ['balls out of round', ballsOnDatums, { reference: { form: '40 um' } }],
    ['cubes out of centre', cubes, { reference: { centring: '300 um' } }],
  ])('cannot mend %s: said so, and as large as the substrate they do not', (_, scene, large) => {
    const [finding] = missed(scene, { ...large, wanted: { x: '1 um' } });
    const [, remaining] = finding!.hint!.match(
      /no patches .* with perfect readings ([\d.]+) µm would remain/,
    )!;
    const largest = combined(scene, { ...large, size: 150 }, 'x');
    expect(largest).toBeGreaterThan(1);
    // Perfect in every direction, they could do no better than that; readings by light still have errors of their own.
    expect(largest).toBeGreaterThanOrEqual(Number(remaining) - 0.005);
    expect(largest).toBeLessThan(1.2 * Number(remaining));
  });

  test('are not ruled out where the wish is above what would remain', () => {
    const large: Changes = { reference: { nest: '60 um' } };
    const [below] = missed(ballsInSeats, { ...large, wanted: { x: '1 um' } });
    const remaining = Number(below!.hint!.match(/perfect readings ([\d.]+) µm/)![1]);
    const noisy = { ...large, interferometer: { readable: 2 }, wanted: { x: `${remaining * 1.01} um` } };
    const [above] = missed(ballsInSeats, noisy);
    expect(above!.hint).not.toMatch(/no patches/);
  });
});
