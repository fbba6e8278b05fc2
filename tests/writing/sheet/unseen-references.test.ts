/**
 * What fringes do not show is given no figures on the sheet, and is not called free where a tracker or a measuring machine sets it: for jobs
 * whose references are known to be seen or not by what the scenario says that they are.
 */
import { expect, test } from 'vitest';
import { applyRules } from '../../../src/rules/all-rules.ts';
import { job, jobText } from './jobs.ts';
import { designOf, sheetOf } from './made-sheets.ts';
import '../../machine/patience.ts';

const sheets = new Map<string, string>();
function sheet(name: string): string {
  const page = sheets.get(name) ?? sheetOf(job(name));
  sheets.set(name, page);
  return page;
}
const sectionOf = (name: string, title: string): string =>
  sheet(name).split(`<h2>${title}</h2>`)[1]!.split('<h2>')[0]!;

/** First cells of the rows of each table. */
const tablesOf = (section: string): string[][] =>
  section
    .split('<table>')
    .slice(1)
    .map((table) => [...table.matchAll(/<tr><td[^>]*>(.*?)<\/td>/g)].map(([, cell]) => cell!));

test.each([
  ['ring-only', []],
  ['screens-only', []],
  ['seats-and-machine', []],
  ['tracker', ['tower-1', 'tower-2', 'tower-3', 'tower-4']],
  ['balls-near', ['top', 'left', 'right']],
])('%s: uncertainties and axes are given for %j', (name, seen) => {
  const [places, ...tables] = tablesOf(sectionOf(name, 'References'));
  const all = job(name).references.map(({ id }) => id);
  expect(places).toEqual(all);
  const seats = job(name).scenario.seats.map(({ id }) => id);
  expect(tables).toEqual([
    ...(seen.length === 0 ? [] : [seen, seen]),
    ...(seats.length === 0 ? [] : [seats]),
  ]);
  const left = all.filter((id) => !(seen as string[]).includes(id));
  const words = sectionOf(name, 'References');
  if (seen.length === 0) expect(words).toContain('Fringes give no position for any of them.');
  else if (left.length > 0)
    expect(words).toMatch(new RegExp(`no position for ${left[0]}.* and ${left.at(-1)}\\.`));
  else expect(words).not.toContain('no position');
});

test.each([
  ['tracker', /No fringes show these motions.*The laser tracker finds them, in step 6 of the order of work/],
  [
    'seats-and-machine',
    /No fringes show these motions.*The measuring machine finds them, in step 5 of the order/,
  ],
  [
    'screens-only',
    /Nothing in this design constrains these motions.*constrain it, or measure it by other means/,
  ],
])('%s: the budget says what sets the part where no fringes do', (name, words) => {
  expect(sectionOf(name, 'Budget')).toMatch(words);
  // The step that the number names.
  const step = /in step (\d+) of/.exec(sectionOf(name, 'Budget'))?.[1];
  if (step === undefined) return;
  const steps = sectionOf(name, 'Order of work').split('<li><strong>').slice(1);
  expect(steps[Number(step) - 1]).toMatch(/laser tracker|measuring machine/);
});

test('a part that a measuring machine sets in the frame of the seats is one note, and an error where accuracy is wanted', () => {
  const found = (text: string) =>
    applyRules(designOf(text))
      .filter(({ rule }) => rule === 'not-observed')
      .map(({ severity }) => severity);
  const text = jobText('seats-and-machine');
  expect(found(text)).toEqual(['note']);
  expect(found(`${text}\nwanted: {x: 10 um}\n`)).toContain('error');
});

test('a return ring’s section and the order of work agree on when it is done', () => {
  const [, few] = /at most ([\d.]+), straight/.exec(sheet('ring-only'))!;
  expect(sheet('ring-only')).toContain(`The order of work is content with ${few} straight fringes or fewer.`);
});

test('one patch and one reference are counted in the singular; without pictures no words are said of them', () => {
  expect(sheet('ring-only')).toContain('Setup sheet for the bench: 1 patch, 1 reference.');
  expect(sheet('ring-only')).toContain('Pictures are seen from the interferometer');
  expect(sheet('screens-only')).toContain('6 patches, 3 references.');
  expect(sheet('screens-only')).not.toContain('Pictures are');
});
