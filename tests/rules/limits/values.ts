/** Values that look like another unit, and those of the trade that do not. */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Fact, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.unlikely, severity: 'warning', unit: 'mm' } as const;

const LENGTHS = table('lengths', LAW, () => {
  const glass = (thickness: number | string): Words => ({
    interferometer: { collimated: true },
    substrate: { outline: { circle: { diameter: 150 } }, thickness, index: 1.5 },
  });
  const ball = (diameter: number | string): Words => ({
    references: [{ id: 'r', kind: 'ball', diameter, at: [0, 0, 900] }],
  });
  const process = (minFeature: number | string): Words => ({ process: { minFeature } });
  const wanted = (x: number | string): Words => ({ wanted: { x } });
  const odd = (where: string, value: number, limit: number, ...figures: string[]) => [
    { where, value, limit, figures },
  ];
  const facts: readonly Fact[] = [
    ['no glass', glass(0), []],
    ['a thin plate', glass(0.1), []],
    ['a heavy one', glass(300), []],
    ['metres for millimetres', glass(0.00635), odd('substrate.thickness', 0.00635, 0.1, '0.00635 mm')],
    ['micrometres for millimetres', glass(6350), odd('substrate.thickness', 6350, 300, '6350 mm')],
    ['a ball of a millimetre', ball(1), []],
    ['half an inch without its unit', ball(0.5), odd('r', 0.5, 1)],
    ['an inch and a half in metres', ball(0.0381), odd('r', 0.0381, 1)],
    ['half a micrometre of process', process('0.5 um'), []],
    ['a process in metres', process(1e-6), odd('process.minFeature', 1e-6, 1e-5)],
    ['a process in micrometres', process(1), odd('process.minFeature', 1, 0.1)],
    ['a wish of half a millimetre', wanted(0.5), []],
    ['a wish in micrometres', wanted(10), odd('wanted.x', 10, 1, '10 mm')],
  ];
  return facts;
});

const ANGLES = table('angles', { ...LAW, unit: 'deg' }, () => {
  const line = (lineAngle: number | string): Words => ({
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [0, 0, 900] }],
    patches: [
      {
        id: 'p',
        reference: 'r',
        focus: 'line',
        centre: [0, 0],
        outline: { rectangle: { width: 10, height: 10 } },
        lineAngle,
      },
    ],
  });
  const odd = (value: number, limit?: number) => [
    { where: 'p', value, within: 1e-6, ...(limit === undefined ? {} : { limit }) },
  ];
  return [
    ['90', line(90), []],
    ['5.5 degrees, near 315 in radians', line(5.5), []],
    ['a quarter turn in radians, with its unit', line('1.5708 rad'), []],
    ['a quarter turn in radians, without', line(1.5708), odd(1.5708)],
    ['the other way', line(-1.57), odd(-1.57)],
    ['210 degrees in radians, without', line(3.665), odd(3.665)],
    ['a full turn', line(360), []],
    ['degrees called radians', line('90 rad'), odd((90 * 180) / Math.PI, 360)],
    [
      'a wish for a rotation in microradians',
      { wanted: { rx: 20 } },
      [{ where: 'wanted.rx', value: 20, limit: 1 }],
    ],
    ['a wish in milliradians, with its unit', { wanted: { rx: '5 mrad' } }, []],
  ];
});

const WAVELENGTHS = table(
  'the wavelength as typed',
  { rule: RULE.roundWavelength, severity: 'note', unit: 'nm' },
  () => {
    const light = (words: Words, more: Words = { wanted: { x: '10 um' } }): Words => ({
      light: words,
      interferometer: { collimated: true },
      ...more,
    });
    const said = (value: number) => [
      { where: 'light.wavelength', value, within: 1e-6, figures: [`${value} nm`] },
    ];
    const facts: readonly Fact[] = [
      ['to the tenth of a nanometre', light({ wavelength: '632.8 nm' }), said(632.8)],
      ['a whole number', light({ wavelength: '1064 nm' }), said(1064)],
      ['that of a laser in vacuum', light({ wavelength: '632.9908 nm' }), said(632.9908)],
      ['that in laboratory air, to a picometre', light({ wavelength: '632.819 nm' }), []],
      ['in vacuum, with its air', light({ vacuumWavelength: '633 nm' }), []],
      [
        'how well it is known is stated',
        light({ wavelength: '632.8 nm', uncertainty: { wavelength: '10 pm' } }),
        [],
      ],
      ['no wish depends on it', light({ wavelength: '632.8 nm' }, {}), []],
    ];
    return facts;
  },
);

export const VALUES: readonly Table[] = [LENGTHS, ANGLES, WAVELENGTHS];
