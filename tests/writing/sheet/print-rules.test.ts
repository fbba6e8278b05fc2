/** What the sheet asks of a printer, as text: where pages may break, what each repeats; the cautions by wavelength; what it leaves out. */
import { expect, test } from 'vitest';
import { titleInMargin } from '../../../src/writing/page/style.ts';
import { cautions } from '../../../src/writing/sheet/cautions.ts';
import { designOf, exampleText, HOSTILE, SHEET_NAMES, sheet } from './made-sheets.ts';
import '../../machine/patience.ts';

const NM = 1e-6;
const design = designOf(exampleText('diverging-balls'));
const cautionsAt = (nanometres: number): string =>
  cautions({ ...design, light: { ...design.light, wavelength: nanometres * NM } }).text;

test.each([
  [355, true, 'ultraviolet', 'fluorescent viewing card', 'It injures eyes and skin'],
  [399.9, true, 'ultraviolet', 'fluorescent viewing card', 'It injures eyes and skin'],
  [405, false],
  [632.8, false],
  [700.1, true, 'infrared', 'infrared viewing card', 'It reaches the retina'],
  [1064, true, 'infrared', 'infrared viewing card', 'It reaches the retina'],
  [1550, true, 'infrared', 'thermal or phosphor card', 'It injures the front of the eye'],
  [10600, true, 'infrared', 'thermal or phosphor card', 'It injures the front of the eye'],
] as const)('cautions at %s nm', (nanometres, unseen, ...words) => {
  const text = cautionsAt(nanometres);
  for (const each of words) expect(text).toContain(each);
  expect(text.includes(`The light at ${nanometres} nm is invisible`)).toBe(unseen);
  expect(text.includes('Never search for it by eye')).toBe(unseen);
  expect(text.match(/viewing card|phosphor card/g)?.length ?? 0).toBe(unseen ? 1 : 0);
});

test('cautions for glass, heavy parts and adhesives, after the local rules', () => {
  const [rules, ...entries] = cautionsAt(632.8).match(/<li>[\s\S]*?<\/li>/g)!;
  expect(rules).toContain('Local rules');
  for (const words of ['Glass edges', 'Lift heavy parts', 'safety data sheets', 'IEC 62471'])
    expect(entries.filter((entry) => entry.includes(words))).toHaveLength(1);
});

test.each(SHEET_NAMES)('%s: what is the designer’s stays on the designer’s pages', (name) => {
  const page = sheet(name);
  const sections = page.match(/<section class="patch[\s\S]*?<\/section>/g)!;
  expect(sections.length).toBeGreaterThan(0);
  for (const section of sections) expect(section).not.toMatch(/residual|Period|degree \d/);
});

test('breaks: none in a patch, a figure, a row, the cautions, after a heading or the head of a table', () => {
  const css = /<style>([\s\S]*?)<\/style>/.exec(sheet('diverging-balls'))![1]!;
  const rules = [...css.matchAll(/^\s*([^@{}]+) \{ ([^{}]+) \}$/gm)];
  const holds = (element: string, declaration: string): boolean =>
    rules.some(
      ([, of, what]) =>
        of!.split(', ').includes(element) && what!.split('; ').join(';').split(';').includes(declaration),
    );
  for (const element of ['section.patch', 'div.seen', 'figure', 'tr', 'thead', 'li', '.caution', 'div.whole'])
    expect({ element, whole: holds(element, 'break-inside: avoid') }).toEqual({ element, whole: true });
  for (const element of ['h1', 'h2', 'h3', 'thead', 'p.lead', 'div.seen:not(:last-child)'])
    expect({ element, held: holds(element, 'break-after: avoid') }).toEqual({ element, held: true });
  expect(holds('thead', 'display: table-header-group')).toBe(true);
});

/** CSS Syntax 3, 4.3.7: a backslash, up to six hexadecimal digits, a blank. */
const unescaped = (css: string): string =>
  css.replace(/\\([0-9a-f]{1,6}) /g, (_, code: string) => String.fromCodePoint(Number.parseInt(code, 16)));

test.each([
  ['Concave mirror, three balls', 'Concave mirror, three balls'],
  ['a "b" \\ c; } </style><b>', 'a "b" \\ c; } </style><b>'],
  ['Spiegel für 3 µm: λ/20 🔭', 'Spiegel für 3 µm: λ/20 🔭'],
  ['W'.repeat(70), `${'W'.repeat(64)}…`],
  ['x\u202ey\nz', 'x\ufffdy\u240az'],
])('the title in the margin of each page stays a text: %s', (title, shown) => {
  const css = titleInMargin(title);
  const [, text] = /content: "([^"]*)"/.exec(css)!;
  expect(text).toMatch(/^(?:[A-Za-z0-9 ]|\\[0-9a-f]+ )*$/);
  expect(unescaped(text!)).toBe(shown);
});

test('each page has the title and its number', () => {
  const css = /<style>([\s\S]*?)<\/style>/.exec(sheet('diverging-balls'))![1]!;
  expect(css).toContain('content: "page " counter(page) " of " counter(pages)');
  expect(css).toContain(titleInMargin(design.scenario.title!));
  expect(sheet('hostile and long texts').match(/<style>[\s\S]*?<\/style>/)![0]).not.toContain(
    HOSTILE.slice(0, 8),
  );
});
