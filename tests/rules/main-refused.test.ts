/**
 * What a main pattern is refused for, by name and with the place: normals that cross at the pattern, a surface that ends or whose normals do
 * not come back, light beyond the glass or the beam, features finer than the process writes. Against the footprint by hand. mm.
 */
import { describe, expect, it, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import type { Finding } from '../../src/finding/finding.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { featureTooSmall } from '../../src/rules/feature-too-small.ts';
import { offSubstrate } from '../../src/rules/off-substrate.ts';
import { unlit } from '../../src/rules/unlit.ts';
import { followedBack, isoAsphere } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';

const disc = (diameter: number, centre = [0, 0]): Words => ({ circle: { diameter, centre } });
const paraboloid = (radius: number, conic = -1, terms: Words = {}): Words => ({
  asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius, conic, terms },
});
const scene = (M: Words, aperture: Words, z: number, more: Words = {}): Words => ({
  substrate: { outline: disc(150), thickness: 0 },
  part: { origin: [0, 0, z], datums: { M } },
  test: { surface: 'M', aperture, margin: 0 },
  ...more,
});

function findingsOf(words: Words): readonly Finding[] {
  const whole = {
    format: 'datumlight/1',
    light: { wavelength: '632.8 nm' },
    references: [],
    patches: [],
    ...words,
  };
  const { scenario, findings } = readScenario(
    JSON.stringify({ interferometer: { focus: [0, 0, -500] }, ...whole }),
    'test.yaml',
  );
  const made = scenario === undefined ? { findings } : designScenario(scenario);
  return 'findings' in made ? made.findings : [];
}

const placeIn = ({ message }: Finding): readonly [number, number] => {
  const [, x, y] = /at x (\S+) mm, y (\S+) mm/.exec(message)!;
  return [Number(x), Number(y)];
};

describe('normals that cross at the pattern', () => {
  // Of a paraboloid of vertex radius R the normals of radius h meet on the axis at R + h²/(2R), neighbours of one meridian at R(1 + h²/R²)^(3/2)
  // along them: 2R's caustic reaches from R to there.
  const [radius, edge] = [-800, 60];
  const meridional = 800 * (1 + (edge / 800) ** 2) ** 1.5;

  it.each([
    ['nearer than all centres of curvature', 790, false],
    ['at the vertex’s centre of curvature', 800, true],
    ['so that they cross on a ring of a millimetre only', 800.002, true],
    ['among the centres of curvature', 803, true],
    ['farther than all', 815, false],
  ])('is refused with the place where they do: %s', (_, z, refused) => {
    const findings = findingsOf(scene(paraboloid(radius), disc(2 * edge), z));
    expect(findings.map(({ rule, where }) => [rule, where])).toEqual(
      refused ? [['caustic', 'test.surface']] : [],
    );
    expect(meridional).toBeGreaterThan(803);
    expect(meridional).toBeLessThan(815);
    if (!refused) return;
    const [finding] = findings as [Finding];
    expect(finding).toMatchObject({ severity: 'error', path: ['test', 'surface'] });
    expect(finding.message).toContain('surface M');
    expect(finding.hint).toContain('move the part along the light');
    // There the footprint folds: a step on the surface goes the other way on the pattern than most do.
    const sheet = {
      height: isoAsphere(radius, -1),
      toSubstrate: ([x, y, h]: readonly [number, number, number]) => [x, y, h + z] as const,
    };
    const spread = (x: number, y: number): number => {
      const at = (dx: number, dy: number) => followedBack(sheet, x + dx, y + dy, undefined).on;
      const [a, b, c] = [at(0, 0), at(0.5, 0), at(0, 0.5)];
      return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    };
    const signs = Array.from({ length: 60 }, (__, k) => {
      const [r, turn] = [edge * Math.sqrt((k + 0.5) / 60), 2.399963 * k];
      const [x, y] = [r * Math.cos(turn), r * Math.sin(turn)];
      return { sign: Math.sign(spread(x, y)), on: followedBack(sheet, x, y, undefined).on };
    });
    // So many points find no fold of a millimetre.
    if (z === 803) expect(new Set(signs.map(({ sign }) => sign)).size).toBe(2);
    // The place is one of the pattern: within the footprint.
    const reach = Math.max(...signs.map(({ on }) => Math.hypot(...on)));
    expect(Math.hypot(...placeIn(finding))).toBeLessThan(1.5 * reach);
  });
});

describe('a surface that the light cannot meet square on', () => {
  it('where it ends within the aperture is named with a place beyond its end', () => {
    // An ellipsoid of κ 0.5 ends at h = |R|/√(1 + κ).
    const end = 100 / Math.sqrt(1.5);
    const [finding] = findingsOf(scene(paraboloid(-100, 0.5), disc(2 * end + 6), 400)) as [Finding];
    expect(finding).toMatchObject({ rule: 'target-behind', where: 'test.aperture', severity: 'error' });
    expect(Math.hypot(...placeIn(finding))).toBeGreaterThan(end - 1e-3);
    expect(finding.message).toContain('surface M');
  });

  it('whose axis lies across the light is refused', () => {
    const across = { asphere: { vertex: [0, 0, 0], axis: [0, 1, 0], radius: -400, conic: 0 } };
    const findings = findingsOf(scene(across, disc(20), 400));
    expect(findings.map(({ rule }) => rule)).toEqual(['target-behind']);
  });

  it('that ends within the margin is named with the margin', () => {
    const end = 100 / Math.sqrt(1.5);
    const words = scene(paraboloid(-100, 0.5), disc(2 * end - 1), 400);
    const findings = findingsOf({ ...words, test: { ...(words.test as Words), margin: 400 } });
    expect(findings.map(({ rule, where }) => [rule, where])).toEqual([['target-behind', 'test.margin']]);
  });
});

describe('a main pattern on the glass', () => {
  // A hollow sphere seen through its centre: r = a · z/√(R² − a²).
  const sphere = { sphere: { centre: [0, 0, 0], diameter: 1600, side: 'inside' } };
  const radius = (a: number, z: number): number => (a * z) / Math.sqrt(800 ** 2 - a * a);
  const apertureFor = (r: number, z: number): number => (2 * r * 800) / Math.hypot(r, z);

  test.each([
    ['over its edge', 75.001 - 3, true],
    ['just inside', 74.999 - 3, false],
  ])('with the edge margin kept free: %s', (_, r, refused) => {
    const more = { substrate: { outline: disc(150), thickness: 0, edgeMargin: 3 } };
    const design = designFrom(scene(sphere, disc(apertureFor(r, 1800)), 1800, more));
    expect(radius(apertureFor(r, 1800) / 2, 1800)).toBeCloseTo(r, 9);
    const findings = offSubstrate.find(design);
    expect(findings.map(({ where }) => where)).toEqual(refused ? ['main'] : []);
    if (refused) expect(findings[0]!.message).toContain('the main pattern');
  });

  test.each([
    ['beyond the beam', 1.001, true],
    ['within it', 0.999, false],
  ])('is lit all over: %s', (_, share, refused) => {
    const beam = 50;
    const interferometer = { collimated: true, beamDiameter: 2 * beam };
    const design = designFrom(scene(sphere, disc(apertureFor(share * beam, 1800)), 1800, { interferometer }));
    const findings = unlit.find(design);
    expect(findings.map(({ where, severity }) => [where, severity])).toEqual(
      refused ? [['main', 'error']] : [],
    );
    if (refused) expect(findings[0]!.value).toBeCloseTo(share * beam, 6);
  });

  test.each([
    ['finer than the process writes', 0.001, true],
    ['as coarse as it writes', -0.001, false],
  ])('%s, with the place where it is finest', (_, above, refused) => {
    // Collimated light bent to the centre at 1800: λ√(1 + (1800/r)²) at the edge.
    const edge = 60;
    const period = 632.8e-6 * Math.hypot(1, 1800 / edge);
    const process = { minFeature: `${period / 2 + above * 1e-3} mm` };
    const interferometer = { collimated: true, beamDiameter: 140 };
    const design = designFrom(
      scene(sphere, disc(apertureFor(edge, 1800)), 1800, { interferometer, process }),
    );
    const findings = featureTooSmall.find(design);
    expect(findings.map(({ where, severity }) => [where, severity])).toEqual(
      refused ? [['main', 'error']] : [],
    );
    if (!refused) return;
    expect(findings[0]!.value).toBeCloseTo((1000 * period) / 2, 3);
    expect(Math.hypot(...placeIn(findings[0] as never))).toBeCloseTo(edge, 2);
  });
});
