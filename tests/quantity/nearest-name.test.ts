import { expect, test } from 'vitest';
import { nearestName } from '../../src/quantity/nearest-name.ts';

const KEYS = [
  'wavelength',
  'vacuumWavelength',
  'laserPower',
  'reference',
  'references',
  'centre',
  'outline',
  'order',
  'id',
  'mm',
];

test.each([
  ['wavelenght', 'wavelength'],
  ['referense', 'reference'],
  ['refrences', 'references'],
  ['center', 'centre'],
  ['ordre', 'order'],
  ['MM', 'mm'],
  ['ix', undefined],
  ['beam', undefined],
  ['power', 'laserPower'],
  ['vacuum', 'vacuumWavelength'],
  ['x'.repeat(5000), undefined],
])('%s was probably %s', (name, nearest) => expect(nearestName(name, KEYS)).toBe(nearest));
