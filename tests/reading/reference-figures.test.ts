import { describe, expect, it } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';

const DEGREE = Math.PI / 180;

const read = (reference: object, interferometer: object = {}) =>
  readScenario(
    JSON.stringify({
      format: 'datumlight/1',
      light: { wavelength: '632.8 nm' },
      interferometer: { focus: [0, 0, -500], ...interferometer },
      substrate: { outline: { circle: { diameter: 150 } } },
      references: [{ id: 'one', kind: 'smr', diameter: 38.1, at: [0, 0, 900], ...reference }],
      patches: [],
    }),
    'test.yaml',
  );

describe('what a reference says of itself', () => {
  it('comes out in mm and radians, its axis a unit vector', () => {
    const told = {
      axis: [0, 0, -2],
      roll: '15 deg',
      acceptance: 25,
      centring: '3 um',
      form: '0.5 um',
      radiusTolerance: '1 um',
      nest: '2 um',
    };
    expect(read(told).scenario?.references[0]).toMatchObject({
      cube: { axis: [0, 0, -1], roll: 15 * DEGREE, acceptance: 25 * DEGREE, centring: 0.003 },
      form: 0.0005,
      radiusTolerance: 0.001,
      nest: 0.002,
    });
  });

  it('is absent where the file does not say', () => {
    const [reference] = read({}).scenario!.references;
    expect(Object.keys(reference!).sort()).toEqual([
      'at',
      'cube',
      'diameter',
      'given',
      'id',
      'kind',
      'touches',
    ]);
    expect(reference!.cube).toEqual({});
  });

  it.each([
    ['a ball has no cube', { kind: 'ball', roll: 10 }, 'conflicting-keys'],
    ['a screen has no form', { kind: 'screen', form: 0.1 }, 'conflicting-keys'],
    ['an acceptance of 90°', { acceptance: 90 }, 'out-of-range'],
    ['a centring below 0', { centring: -0.1 }, 'out-of-range'],
    ['an axis without direction', { axis: [0, 0, 0] }, 'bad-value'],
    ['a length of another kind', { nest: '3 deg' }, 'unit-mismatch'],
  ])('%s is refused', (_name, reference, code) => {
    const { findings } = read(reference);
    expect(findings.map(({ rule }) => rule)).toEqual([code]);
  });
});

describe('the power of the beam', () => {
  it('comes out in watts', () => {
    expect(read({}, { laserPower: '1.5 mW' }).scenario?.interferometer.laserPower).toBe(0.0015);
    expect(read({}).scenario?.interferometer).not.toHaveProperty('laserPower');
  });

  it('is more than 0 and no more than 10 W', () => {
    expect(read({}, { laserPower: 0 }).findings).toHaveLength(1);
    expect(read({}, { laserPower: 20 }).findings[0]?.message).toBe('`laserPower` is 20 W');
  });

  it('is suggested for `power`', () => {
    const [finding] = read({}, { power: '1 mW' }).findings;
    expect([finding?.rule, finding?.hint]).toEqual(['unknown-key', 'did you mean `laserPower`?']);
  });
});
