/** The setup sheet as text: whole in itself, safe whatever the scenario says, and right in what it tells the bench to do. */
import { expect, test } from 'vitest';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import { clockDirection, turnsClockwise } from '../../../src/writing/page/clock.ts';
import { fringeWords, micro, place, significant } from '../../../src/writing/page/figures.ts';
import { html, trusted } from '../../../src/writing/page/html.ts';
import { outlinePath } from '../../../src/writing/sheet/operator-view.ts';
import { designOf, exampleText, HOSTILE, SHEET_NAMES, sheet, sheetOf, sheetOfMany } from './made-sheets.ts';
import '../../machine/patience.ts';

test.each(SHEET_NAMES)('%s: nothing is fetched, run or left open', (name) => {
  const page = sheet(name);
  expect(page.startsWith('<!DOCTYPE html>\n<html lang="en">')).toBe(true);
  expect(page).not.toMatch(/<script|<link|<iframe|<object|<form|@import|url\(/i);
  const tags = page.match(/<[a-z][^<>]*>/gi)!.join('\n');
  expect(tags.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(
    /https?:|javascript:|\son[a-z]+=|\b(href|srcset)=|src="(?!data:)/i,
  );
  expect(page).not.toMatch(/undefined|NaN|Infinity|\[object/);
  for (const tag of [
    'section',
    'table',
    'tr',
    'td',
    'th',
    'ol',
    'ul',
    'li',
    'p',
    'svg',
    'figure',
    'div',
    'main',
  ])
    expect({ tag, open: page.match(new RegExp(`<${tag}[ >]`, 'g'))?.length }).toEqual({
      tag,
      open: page.match(new RegExp(`</${tag}>`, 'g'))?.length,
    });
});

test.each(SHEET_NAMES)('%s: ids on the page are unique', (name) => {
  const ids = [...sheet(name).matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
});

test('a text of the scenario stays a text', () => {
  const page = sheet('hostile and long texts');
  expect(page).toContain('&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;');
  // Marks that turn the writing direction, and control characters, are shown as signs.
  for (const character of ['\u202e', '\u0007']) expect(page).not.toContain(character);
  expect(html`<p title="${HOSTILE}">${[HOSTILE, 2, undefined]}${trusted('<b></b>')}</p>`.text).toMatch(
    /^<p title="&lt;script[^"<>]*">[^<>]*2<b><\/b><\/p>$/,
  );
});

test('the same design gives the same bytes', () => {
  expect(sheetOf(designOf(exampleText('diverging-balls')))).toBe(sheet('diverging-balls'));
});

test('it names every patch and reference, the cautions, the order of work, and from where it is seen', () => {
  const design = designOf(exampleText('infrared-collimated'));
  const page = sheet('infrared-collimated');
  for (const { id } of [...design.patches, ...design.references]) expect(page).toContain(id);
  for (const words of [
    'IEC 60825-1',
    'laser safety officer',
    'Never look into the beam, into a focus',
    'The light at 1063.9 nm is invisible (infrared).',
    'hold it by its edge',
    'SEEN FROM THE INTERFEROMETER',
    'Hologram to the beam, by its own reflection.',
    'Clamping.',
    'Budget',
  ])
    expect(page).toContain(words);
  expect(sheet('diverging-balls')).not.toContain('invisible');
  expect(page).not.toContain('NOT FOR FABRICATION');
});

test('the class of the laser by its power, where the scenario gives one', () => {
  const powered = (power: string): string => {
    const text = exampleText('diverging-balls').replace(
      '  readable: 0.1',
      `  readable: 0.1\n  laserPower: ${power}`,
    );
    return sheetOf(designOf(text));
  };
  expect(sheet('diverging-balls')).toContain('states no class');
  expect(powered('0.9 mW')).toContain('power of 0.9 mW alone, a continuous beam is of class 2:');
  expect(powered('0.02')).toContain('power of 20 mW alone, a continuous beam is of class 3B:');
});

test('more patches than a bench reads have a table and no pictures', () => {
  const design = designOf(exampleText('diverging-balls'));
  const page = sheetOfMany(design, 41);
  expect(page).not.toContain('data:image/png');
  // One row in the table of readings and one in that of the patches.
  expect(page.match(/<td>(?:<span class="name">)?p\d+</g)).toHaveLength(2 * 41);
  // Every name stands in the order of work, and nothing refers to a section that is not there.
  const [, order] = /<ol class="steps">([\s\S]*?)<\/ol>/.exec(page)!;
  expect(order).toContain(Array.from({ length: 40 }, (_, k) => `p${k}`).join(', '));
  expect(order).not.toMatch(/its section|their sections|and \d+ more/);
});

test('directions on a clock, seen from the interferometer: x to the left', () => {
  for (const [direction, words] of [
    [[0, 1], '12 o’clock'],
    [[-1, 0], '3 o’clock'],
    [[0, -1], '6 o’clock'],
    [[1, 0], '9 o’clock'],
    [[-1, 1.732], '1 o’clock'],
    [[1, 1], 'half past 10'],
    [[0.05, 1], '12 o’clock'],
    [[0.26, 1], 'half past 11'],
    [[-0.26, 1], 'half past 12'],
  ] as const)
    expect({ direction, words: clockDirection(direction, PLAIN_ORIENTATION) }).toEqual({ direction, words });
  // From +x (9 o'clock) to +y (12 o'clock) the hand goes forward.
  expect(turnsClockwise([1, 0], [0, 1], PLAIN_ORIENTATION)).toBe(true);
  expect(turnsClockwise([0, 1], [1, 0], PLAIN_ORIENTATION)).toBe(false);
});

test('the mirrored outline: a quarter disc keeps its arc on the outside', () => {
  const path = outlinePath(
    { shape: 'sector', centre: [1, 2], inner: 0, outer: 10, from: 0, to: Math.PI / 2 },
    PLAIN_ORIENTATION,
  );
  // From (11, 2) to (1, 12), counterclockwise as seen from the part; on paper from (−11, −2) to (−1, −12), y down: to the left and up.
  expect(path).toContain('-11.000 -2.000');
  expect(path).toMatch(/A 10\.000 10\.000 0 0 1 -1\.000 -12\.000/);
});

test('figures: digits that mean something, a minus that looks like one', () => {
  expect([1234567, 0.012345, -5, 0, 1e8, null, Number.NaN].map((value) => significant(value))).toEqual([
    '1230000',
    '0.0123',
    '−5',
    '0',
    '–',
    '–',
    '–',
  ]);
  expect(place(-0.00001)).toBe('0');
  expect(micro(2e-9)).toBe('<0.001');
  expect(fringeWords([1])).toBe('1 fringe');
  expect(fringeWords([0.5, 3])).toBe('0.5, 3 fringes');
});
