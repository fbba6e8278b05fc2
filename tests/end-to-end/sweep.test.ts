/** What `batch` sweeps reaches the design: each case's package has the places, distances and wavelengths of its own values, by hand. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, folder, scenarioFile } from '../cli/support/run.ts';
import { scenarioText } from './support/command.ts';

interface Report {
  readonly light: { readonly wavelength_nm: number };
  readonly patches: readonly { readonly target: readonly number[]; readonly distance_mm: number }[];
}

test('every combination of a sweep, lengths and wavelengths alike', async () => {
  const scenario = scenarioFile(
    scenarioText({
      parameters: { away: '900 mm', line: '632.8 nm' },
      light: { wavelength: 'line' },
      references: [{ id: 'r', kind: 'ball', diameter: 25.4, at: [0, 0, 'away / 3'] }],
      patches: [
        { id: 'p', reference: 'r', focus: 'point', centre: [40, 0], outline: { circle: { diameter: 12 } } },
      ],
      sweep: { values: { away: ['900 mm', '0.96 m'], line: { from: '543.5 nm', to: '632.8 nm', count: 2 } } },
    }),
  );
  const out = join(folder(), 'out');
  const { code, stderr } = await datumlight([
    'batch',
    scenario,
    '--out',
    out,
    '--no-cache',
    '--jobs',
    '1',
    '--draft',
  ]);
  expect({ code, stderr: code === 0 ? '' : stderr }).toEqual({ code: 0, stderr: '' });
  // The last of the parameters varies fastest.
  for (const [name, away, wavelength] of [
    ['1', 900, 543.5],
    ['2', 900, 632.8],
    ['3', 960, 543.5],
    ['4', 960, 632.8],
  ] as const) {
    const file = join(out, 'scenario', name, 'report.json');
    const { light, patches } = JSON.parse(readFileSync(file, 'utf8')) as Report;
    expect(light.wavelength_nm).toBeCloseTo(wavelength, 9);
    expect(patches[0]!.target).toEqual([0, 0, away / 3]);
    expect(patches[0]!.distance_mm).toBeCloseTo(Math.hypot(40, away / 3), 8);
  }
});
