/** The codes of findings: stable words, each with its meaning; the layout rules are those that users know. */
import { expect, test } from 'vitest';
import { codeTable } from '../../src/rules/code-table.ts';

test('each code is a stable word of its own with a meaning and a remedy', () => {
  const codes = codeTable().map(({ code }) => code);
  expect(new Set(codes).size).toBe(codes.length);
  for (const { code, meaning, remedy } of codeTable()) {
    expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect(meaning).toMatch(/^[A-Z].*\.$/);
    expect(remedy).toMatch(/^[A-Z].*\.$/);
  }
});

test('the layout rules that the design promises have their rows', () => {
  const rules = codeTable().flatMap(({ code, family }) => (family === 'rule' ? [code] : []));
  expect(rules.sort()).toEqual(
    [
      ...[
        'patch-overlap',
        'keep-out',
        'off-substrate',
        'unlit',
        'feature-too-small',
        'bias-cancels',
        'diffraction-blur',
      ],
      ...[
        'fit-residual',
        'undersampled',
        'blocked',
        'stray-order',
        'retro-turned',
        'unaligned-hologram',
        'not-observed',
        'misses-wanted',
        'misses-figure',
        'seat-clash',
        'mark-clash',
        'weak-return',
        'no-return',
      ],
      ...['no-contact', 'collision', 'unlikely-value', 'mount-not-said', 'round-wavelength'],
    ].sort(),
  );
});
