import { describe, expect, test } from 'vitest';
import type { Finding, Place } from '../../src/finding/finding.ts';
import { renderFinding } from '../../src/finding/render-finding.ts';

const ESC = '\u001b';
const place = (line: number, column: number, endColumn: number, endLine = line): Place => ({
  file: 'a.yaml',
  line,
  column,
  endLine,
  endColumn,
});
const finding = (more: Partial<Finding> = {}): Finding => ({
  severity: 'error',
  rule: 'unknown-unit',
  where: 'substrate.thickness',
  message: '`milimeter` is no unit',
  hint: 'did you mean `millimeter`?',
  ...more,
});

describe('a finding as text', () => {
  test('shows place, message, hint, code, the line and a caret under it', () => {
    const source = 'substrate:\n  thickness: 6 milimeter # thick\n';
    expect(renderFinding(finding({ place: place(2, 14, 25) }), source)).toBe(
      [
        'a.yaml:2:14: `milimeter` is no unit; did you mean `millimeter`? [error unknown-unit]',
        '  2 |   thickness: 6 milimeter # thick',
        '    |              ^^^^^^^^^^^',
      ].join('\n'),
    );
  });

  test('without a place it starts with what it is about', () => {
    expect(renderFinding(finding({ rule: 'patch-overlap', where: 'north-1' }))).toMatch(
      /^north-1: `milimeter`/,
    );
  });

  test.each([
    [
      'a range over lines is marked to the end of its first',
      'a:\n  b: {x: 1,\n y: 2}',
      place(2, 6, 7, 3),
      5,
      6,
    ],
    ['an empty range has a caret all the same', 'a: 1\nb:\n', place(2, 3, 3), 2, 1],
    ['CRLF ends no line with a caret', 'a: 1\r\nb: 22\r\n', place(2, 4, 6), 3, 2],
    ['a byte order mark shifts nothing', '\ufeffab: 1', place(1, 1, 3), 0, 2],
    ['a tab is one column', 'a:\n\tb: 1', place(2, 2, 3), 1, 1],
  ])('%s', (_, source, where, indent, width) => {
    const caret = renderFinding(finding({ place: where }), source).split('\n')[2]!;
    expect(caret).toBe(`    | ${' '.repeat(indent)}${'^'.repeat(width)}`);
  });

  test('a long line is cut around the caret', () => {
    const source = `points: [${'[0, 0], '.repeat(400)}oops, ${'[1, 1], '.repeat(400)}]`;
    const column = source.indexOf('oops') + 1;
    const [, line, caret] = renderFinding(finding({ place: place(1, column, column + 4) }), source).split(
      '\n',
    );
    expect(line!.length).toBeLessThan(115);
    expect(line!.slice(caret!.indexOf('^'), caret!.lastIndexOf('^') + 1)).toBe('oops');
  });

  test('no control character, direction mark or lone surrogate of a file reaches the terminal', () => {
    const nasty = `${ESC}[2J\u0007\u009b31m\u202e\u200b\ud800\u0000\u2028`;
    const source = `title: ${nasty}\n`;
    const shown = renderFinding(
      finding({ message: nasty, hint: nasty, where: nasty, place: { ...place(1, 8, 18), file: nasty } }),
      source,
    );
    expect(shown.replaceAll('\n', '')).not.toMatch(/\p{Cc}|\p{Cf}|\p{Cs}|\p{Zl}/u);
    expect(shown).toContain('\u241b[2J');
    expect(shown.split('\n')).toHaveLength(3);
  });

  test('colour only where asked for', () => {
    const source = 'a: 1\n';
    const plain = renderFinding(finding({ place: place(1, 4, 5) }), source, false);
    const coloured = renderFinding(finding({ place: place(1, 4, 5) }), source, true);
    expect(plain).not.toContain(ESC);
    expect(coloured).toContain(`${ESC}[31m`);
    expect(coloured.replaceAll(new RegExp(`${ESC}\\[\\d+m`, 'g'), '')).toBe(plain);
  });

  test('a message that quotes a whole file is clipped', () => {
    expect(renderFinding(finding({ message: 'x'.repeat(1e6) })).length).toBeLessThan(1000);
  });
});
