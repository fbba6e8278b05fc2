/**
 * What the setup sheet says of the laser: its class by power and wavelength (IEC 60825-1, limits as in tests/optics/laser-class.test.ts), that
 * the label and local rules come first, and what is not known.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { folder } from '../cli/support/run.ts';
import { run, scenarioText } from './support/command.ts';

/** The cautions of the sheet of a scenario without patches, tags left out. */
async function cautions(wavelength: string, power?: string): Promise<string> {
  const out = join(folder(), 'package');
  const words = {
    light: { wavelength },
    interferometer: {
      focus: [0, 0, -500],
      fNumber: 3.2,
      ...(power === undefined ? {} : { laserPower: power }),
    },
  };
  const { code, stderr } = await run(['make', '-', '--out', out, '--draft'], scenarioText(words));
  if (code > 1) throw new Error(stderr);
  const page = readFileSync(join(out, 'sheet.html'), 'utf8');
  const [, found] = page.match(/<div class="caution">([\s\S]*?)<\/div>/)!;
  return found!.replace(/<[^>]*>/g, '').replace(/\s+/g, ' ');
}

const CLASSES: readonly (readonly [wavelength: string, power: string, named: string, edition: boolean])[] = [
  ['632.8 nm', '0.5 mW', '2', false],
  ['632.8 nm', '6 mW', '3B', false],
  ['632.8 nm', '0.6 W', '4', false],
  ['1064 nm', '3 mW', '3R', false],
  ['1310 nm', '15 mW', '1', true],
  ['1310 nm', '200 mW', '3B', true],
  ['1.55 um', '9 mW', '1', false],
];

test.each(CLASSES)('%s, %s: class %s', async (wavelength, power, named, edition) => {
  const words = await cautions(wavelength, power);
  expect(words).toMatch(new RegExp(`a continuous beam is of class ${named}:`));
  expect(words).toMatch(/label of the laser states its class to IEC 60825-1 and takes precedence/);
  expect(words).toMatch(/Local rules and the laser safety officer take precedence/);
  expect(words.includes('limits of IEC 60825-1:2007')).toBe(edition);
  // The eyes see nothing of what is beyond 700 nm.
  expect(words.includes('is invisible')).toBe(!wavelength.startsWith('632.8'));
});

test('without a power no class is stated, and none under 400 nm', async () => {
  expect(await cautions('632.8 nm')).not.toMatch(/of class/);
  expect(await cautions('355 nm', '1 mW')).not.toMatch(/of class/);
});
