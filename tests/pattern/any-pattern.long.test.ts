import { test } from 'vitest';
import { everyPatternAgrees } from './any-pattern.ts';

test('random patterns agree with their phase at random points', () => everyPatternAgrees(5000));
