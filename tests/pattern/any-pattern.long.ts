import { expect, test } from 'vitest';
import { patternsThatAgree } from './any-pattern.ts';

const PATTERNS = 5000;

test('random patterns agree with their phase at random points', () => {
  expect(patternsThatAgree(PATTERNS)).toBe(PATTERNS);
});
