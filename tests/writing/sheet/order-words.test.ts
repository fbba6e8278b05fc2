/**
 * The order of work as the sheet words it, for ten jobs: what each must tell the bench, and what it must not ask of one that has no such
 * thing. The steps themselves are tested as data in tests/metrology/order-of-work.test.ts.
 */
import { describe, expect, test } from 'vitest';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import { patchTables } from '../../../src/writing/coefficients/coefficients.ts';
import { reportOf } from '../../../src/writing/report/report.ts';
import { orderOfWork } from '../../../src/writing/sheet/order-of-work.ts';
import { patchSection } from '../../../src/writing/sheet/patch-section.ts';
import { JOB_NAMES, job, jobText } from './jobs.ts';
import { designOf } from './made-sheets.ts';
import '../../machine/patience.ts';

const HEAD = { version: '0.0.0', scenarioHash: 'ab'.repeat(32), draft: false };
const pages = new Map<string, string>();

/** The order of work and its table of readings. */
function pageOf(name: string): string {
  const known = pages.get(name);
  if (known !== undefined) return known;
  const page = orderOfWork(job(name), reportOf(job(name), [], HEAD, patchTables(job(name)))).text;
  pages.set(name, page);
  return page;
}

/** The steps as plain text, one each. */
const stepsOf = (name: string): readonly string[] =>
  pageOf(name)
    .split('<li><strong>')
    .slice(1)
    .map((step) =>
      step
        .replace(/<\/ol>[\s\S]*/, '')
        .replace(/<[^>]*>/g, ' ')
        .replace(/\s+/g, ' '),
    );

interface Told {
  readonly says: readonly string[];
  readonly never?: RegExp;
}

/** What a job without fringes of references, or without a stage, must not be told. */
const NO_STEERING = /datumlight steer|turns of the screws|nest/;

const TOLD: Readonly<Record<string, Told>> = {
  'ring-only': {
    says: ['by its return ring', '242 µm along it', 'Constrain them', 'no more than 2 straight fringes'],
    never: new RegExp(`${NO_STEERING.source}|tracker|card there`),
  },
  'balls-near': {
    says: [
      'move the part, not the references',
      '154.777',
      'take the excess back',
      'datumlight steer',
      'the lengths again',
    ],
    never: /screws|tracker|return ring \(/,
  },
  'smrs-on-a-stage': {
    says: ['(across, up, focus, tip, tilt and clock)', 'the turns of the screws'],
    never: /tracker/,
  },
  'smrs-on-towers': {
    says: ['move each by its own mount', 'They tell nothing of the part.', 'Constrain them'],
    never: /tracker|screws/,
  },
  'kinematic-vees': { says: ['top: against groove-top', 'Keep the contact'], never: /tracker|screws/ },
  tracker: {
    says: [
      'until the tracker ties it to them, in step 6',
      'No patch looks at rim-1, rim-2, rim-3, rim-4 and groove',
      'datumlight transfer',
      'then tower-1 again, which must repeat',
    ],
    never: /Constrain|screws|move the part until their patches/,
  },
  'seats-and-machine': {
    says: [
      'by its seats',
      'measure the centres of p1, p2 and p3',
      'Nothing shows fringes there',
      'p1, p2, p3 to 5.7 µm',
    ],
    never: new RegExp(`${NO_STEERING.source}|Constrain|fringes are stable`),
  },
  'screens-only': {
    says: [
      'Nothing but the marks, which are set by eye to 0.5 mm',
      'a line of 77 µm by 10 mm',
      'darken the room',
    ],
    never: new RegExp(`${NO_STEERING.source}|fringes are stable|tracker`),
  },
  everything: {
    says: [
      'by its return ring',
      'wall stands on a mount of its own',
      'top: against flange and shoulder',
      'zone: a zone of the surface',
      'north, west, east to 2 µm',
      'A flat null is no proof of alignment',
      'misalignment adds 4.3 nm rms',
    ],
  },
  infrared: {
    says: [
      'by its own reflection',
      'use a viewing card or a camera for this light',
      'this design does not say which',
    ],
    never: /darken the room|screws|tracker/,
  },
};

describe.each(JOB_NAMES)('%s', (name) => {
  test('says what its bench needs, and nothing for another bench', () => {
    const text = stepsOf(name).join('\n');
    const { says, never } = TOLD[name]!;
    for (const words of says) expect(text).toContain(words);
    if (never !== undefined) expect(text).not.toMatch(never);
  });

  test('every step says when it is done or what comes of it; no figure is missing', () => {
    const steps = stepsOf(name);
    expect(steps.length).toBeGreaterThan(4);
    for (const step of steps) {
      expect(step).toMatch(
        /Done when|must be|uncertainties:|Contact is kept|before you clamp|A larger misfit|Record all|read again|Only then/,
      );
      expect(step).not.toMatch(/undefined|NaN|Infinity|– (mm|µm|fringes)|±–/);
    }
  });
});

test('a phase that stands still somewhere has no figure missing, and no period, on the operator’s sheet', () => {
  // A spot on the axis of a beam on the axis: in the middle of its patch the light goes straight on.
  const design = designOf(
    jobText('screens-only')
      .replace(/references:[\s\S]*/, 'references:\n  - {id: end, kind: screen, at: [0, 0, 900]}\n')
      .replace(/keepOuts:\n.*\n/, '')
      .concat(
        'patches:\n  - {id: middle, reference: end, focus: point, centre: [0, 0], outline: {circle: {diameter: 12}}}\n',
      ),
  );
  const report = reportOf(design, [], HEAD, patchTables(design));
  const section = patchSection(design, design.patches[0]!, report.patches[0]!, 1, PLAIN_ORIENTATION).text;
  expect(section).toContain('Point focus, order +1');
  expect(section).not.toMatch(/[Pp]eriod/);
  expect(section).not.toContain('– µm');
});

test('fringes are asked for only of patches whose light comes back', () => {
  // A tracker's targets on the part stand in no step about fringes but to say that there are none.
  for (const step of stepsOf('tracker').filter((words) => words.includes('rim-1')))
    expect(
      step.replace(/no fringes are seen there|Wait until[^.]*again; none[^.]*\([^)]*\)/, ''),
    ).not.toMatch(/fringes (?!are stable)/);
});

test('the table of readings has a row for each patch that shows fringes, and none for a screen', () => {
  const rows = (name: string): readonly string[] => {
    const page = pageOf(name);
    const table = page.slice(page.indexOf('Table of readings'));
    return [...table.matchAll(/<tr><td[^>]*>\d+<\/td><td>([^<]*)<\/td><td>([^<]*)/g)].map(
      ([, id, shows]) => `${id}: ${shows}`,
    );
  };
  expect(rows('everything')).toEqual([
    'return-ring: at most 2, straight',
    'left: 1 ± 0.1, straight',
    'right: 1 ± 0.1, straight',
    'top: 1 ± 0.1, straight',
    'zone: uniform, 0 ± 0.1',
  ]);
  expect(rows('screens-only')).toEqual([]);
  expect(rows('tracker')[0]).toBe('tower-4-x: 1 ± 0.1, straight through both halves');
});

test.each(JOB_NAMES)('%s: a minus before a figure is a minus', (name) => {
  for (const step of stepsOf(name)) expect(step).not.toMatch(/[\s(]-\d/);
});
