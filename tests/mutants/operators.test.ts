/** What each mutation operator makes of small sources. The expected texts are written by hand. */
// biome-ignore-all lint/suspicious/noTemplateCurlyInString: sources with templates are the subject.
import { describe, expect, test } from 'vitest';
import { mutantsOf, mutated } from '../../.build/mutants/sites.ts';

/** The sources that one operator makes of this one, in the order in which the places stand. */
const made = (operator: string, source: string): readonly string[] =>
  mutantsOf('src/optics/a.ts', source)
    .filter((mutant) => mutant.operator === operator)
    .map((mutant) => mutated(source, mutant));

describe.each<[operator: string, cases: readonly (readonly [source: string, ...made: string[]])[]]>([
  [
    'arithmetic',
    [
      ['f(a + b);', 'f(a - b);'],
      ['f(a - b * c);', 'f(a + b * c);', 'f(a - b / c);'],
      ['f(-a / b ** c);', 'f(-a * b ** c);', 'f(-a / b * c);'],
      ['sum += a % b;', 'sum -= a % b;', 'sum += a * b;'],
      ["f('a' + b);"],
    ],
  ],
  ['sign', [['f(-a);', 'f(a);']]],
  [
    'comparison',
    [
      ['f(a < b);', 'f(a <= b);', 'f(a > b);'],
      ['f(a >= b);', 'f(a > b);', 'f(a <= b);'],
      ['f(a === b);', 'f(a !== b);'],
    ],
  ],
  ['logical', [['f(a && b || c);', 'f(a || b || c);', 'f(a && b && c);']]],
  ['boolean', [['f(true, false);', 'f(false, false);', 'f(true, true);']]],
  [
    'number',
    [
      ['f(0, 1, 2.5);', 'f(1, 1, 2.5);', 'f(0, 0, 2.5);', 'f(0, 1, (2.5 * 2));'],
      ['f({ 2: a }, b[0]);'],
      ['type T = 1 | 2;'],
    ],
  ],
  ['index', [['f(p[0], p[1], p[2]);', 'f(p[1], p[1], p[2]);', 'f(p[0], p[0], p[2]);']]],
  [
    'function',
    [
      ['f(Math.min(a, b));', 'f(Math.max(a, b));'],
      ['f(Math.sin(a) * Math.abs(b - c));', 'f(Math.cos(a) * Math.abs(b - c));', 'f(Math.sin(a) * (b - c));'],
    ],
  ],
  [
    'property',
    [
      ['f(box.width);', 'f(box.height);'],
      ['f({ max: a, mean: b, min: c });', 'f({ max: c, mean: b, min: a });'],
      ['const { x, y } = p;', 'const { x: y, y: x } = p;'],
    ],
  ],
  ['pair', [['f([a, b]);', 'f([b, a]);'], ['const [x, y] = p;', 'const [y, x] = p;'], ['f([a, a, b]);']]],
  [
    'element',
    [
      ['f([a, b, c, d]);', 'f([b, c, d]);', 'f([a, c, d]);', 'f([a, b, d]);', 'f([a, b, c]);'],
      ["f(['a', 'b']);", "f(['b']);", "f(['a']);"],
      ['f([1, 0, 0, -1]);'],
      ['f([a, b, c]);'],
    ],
  ],
  ['call', [['list.push(a);\nconst b = f();', ';\nconst b = f();']]],
  [
    'condition',
    [
      ['if (a) f();', 'if (true) f();', 'if (false) f();'],
      ['while (a()) f();', 'while (false) f();'],
    ],
  ],
  ['default', [['f(a ?? b);', 'f((a)!);']]],
  [
    'word',
    [
      ["f('turn clockwise');", "f('turn counterclockwise');"],
      ["f('counterclockwise');", "f('clockwise');"],
      ['f(`${a} µm toward x`);', 'f(`${a} mm toward x`);', 'f(`${a} µm away from x`);'],
      ["import a from 'left';\nf({ 'top': 'leftover' });"],
    ],
  ],
  ['inserts', [['f(`${a} by ${b.c}`);', 'f(`${b.c} by ${a}`);'], ['f(`${a} ${a}`);']]],
  [
    'text',
    [
      ['f(`the patch ${a} overlaps it`);', 'f(`the patch ${a} otherwise it`);'],
      ['f(`<p class="wide page">${a}</p>`);'],
    ],
  ],
  ['unit-key', [['f({ reach_mm: a, b: c });', 'f({ reach_um: a, b: c });'], ['const { reach_mm: a } = b;']]],
])('%s', (operator, cases) => {
  test.each(cases)('%s', (source, ...expected) => {
    expect(made(operator, source)).toEqual(expected);
  });
});

test('the same change on two equal lines has two names, and none depends on lines elsewhere', () => {
  const source = 'a = b + c;\na = b + c;';
  const keys = (text: string): readonly string[] => mutantsOf('src/optics/a.ts', text).map(({ key }) => key);
  expect(keys(source)).toEqual([
    'src/optics/a.ts | arithmetic | a = b + c; | + → -',
    'src/optics/a.ts | arithmetic | a = b + c; | + → - | 2',
  ]);
  expect(keys(`// A comment.\n\n${source}`)).toEqual(keys(source));
});
