/** Patches of next to no area are refused by name, whatever their shape; long ones that can be sampled are not. */
import { expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { soundScenario } from '../cli/support/run.ts';

const rulesFor = (outline: string): readonly string[] => {
  const text = soundScenario((sound) => sound.replace('{circle: {diameter: 12}}', outline));
  const { scenario, findings } = readScenario(text, 's.yaml');
  expect(findings).toEqual([]);
  const made = designScenario(scenario!);
  return 'findings' in made ? made.findings.map(({ rule, where }) => `${where}: ${rule}`) : [];
};

test.each([
  ['{rectangle: {width: 100, height: 0.05}}'],
  ['{ring: {inner: 99.99, outer: 100}}'],
  ['{sector: {inner: 10, outer: 12, from: 0, to: 1e-9}}'],
  ['{polygon: {points: [[0, 0], [1000, 1e-9], [1000, 2e-9]]}}'],
  ['{polygon: {points: [[0, 0], [10000, 0], [5000, 1e-300]]}}'],
])('a sliver: %s', (outline) => {
  expect(rulesFor(outline)).toEqual(['near-1: bad-outline']);
});

test.each([
  ['{rectangle: {width: 100, height: 0.2, rotation: 30 deg}}'],
  ['{ring: {inner: 99.5, outer: 100}}'],
  ['{sector: {inner: 10, outer: 12, from: 0, to: 1 deg}}'],
])('slender, but a patch: %s', (outline) => {
  expect(rulesFor(outline)).toEqual([]);
});
