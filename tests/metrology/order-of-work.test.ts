/**
 * The order of work as data, for ten jobs: the steps that a practitioner takes for each, and laws that hold for every job: the order of
 * kinds, nothing asked of what cannot show it, and limits by what the scenario states. Lengths mm, angles rad.
 */
import { describe, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import type { Design } from '../../src/design/design.ts';
import { orderOfWork } from '../../src/metrology/job/order-of-work.ts';
import { MEANS, STEP_KINDS, type WorkStep } from '../../src/metrology/job/work-step.ts';
import { JOB_NAMES, job, jobText } from '../writing/sheet/jobs.ts';
import { designOf } from '../writing/sheet/made-sheets.ts';
import '../machine/patience.ts';

/** Kind and means, then the references, seats, measurements and screws. */
const told = ({ kind, by, references, items }: WorkStep): string =>
  [kind, by, ...references, ...(kind === 'constrain' ? [items.length] : items)].join(' ');

const SCREWS = 'across up focus tip tilt clock';
const CLOSING = ['null main pattern'];

/** What each job takes, by hand: hologram by what settles it, references by what holds them, and nothing that nobody sees. */
const EXPECTED: Readonly<Record<string, readonly string[]>> = {
  'ring-only': ['mount eye', 'hologram return ring', 'constrain other means 6', 'clamp eye', ...CLOSING],
  'balls-near': [
    'mount eye',
    'hologram placing',
    'coarse eye top left right',
    'measure other means top gauge',
    'references part top left right',
    'clamp eye gauge',
    'reseat eye top left right',
    ...CLOSING,
  ],
  'smrs-on-a-stage': [
    'mount eye',
    'hologram placing',
    'coarse eye north west east',
    `references stage north west east ${SCREWS}`,
    'clamp eye',
    'reseat eye north west east',
    ...CLOSING,
  ],
  'smrs-on-towers': [
    'mount eye',
    'hologram placing',
    'coarse eye tower-1 tower-2 tower-3 tower-4',
    'references mounts tower-1 tower-2 tower-3 tower-4',
    'constrain other means 6',
    'clamp eye',
    'reseat eye tower-1 tower-2 tower-3 tower-4',
    ...CLOSING,
  ],
  'kinematic-vees': [
    'mount eye',
    'hologram placing',
    'seat part top left right groove-top groove-left groove-right',
    'coarse eye top left right',
    'references part top left right',
    'clamp eye',
    'reseat eye top left right',
    ...CLOSING,
  ],
  tracker: [
    'mount eye',
    'hologram placing',
    'coarse eye tower-1 tower-2 tower-3 tower-4',
    'references mounts tower-1 tower-2 tower-3 tower-4',
    'seat part rim-1 rim-2 rim-3 rim-4 groove B A C',
    `tracker tracker ${Array(2).fill('tower-1 tower-2 tower-3 tower-4 rim-1 rim-2 rim-3 rim-4 groove').join(' ')}`,
    'clamp eye rim-1 rim-2 rim-3 rim-4 groove',
    'reseat eye tower-1 tower-2 tower-3 tower-4',
    ...CLOSING,
  ],
  'seats-and-machine': [
    'mount eye',
    'hologram seats north west east',
    'marks mounts target',
    'seat part p1 p2 p3 rim face',
    'seats measuring machine p1 p2 p3 north west east',
    'clamp eye p1 p2 p3',
    ...CLOSING,
  ],
  'screens-only': [
    'mount eye',
    'hologram placing',
    'marks part top-target left-target right-target',
    'constrain other means 6',
    'clamp eye',
    ...CLOSING,
  ],
  everything: [
    'mount eye',
    'hologram return ring',
    'marks mounts wall',
    'seat part top left right flange shoulder',
    'coarse eye top left right',
    'measure other means top gauge',
    `references stage top left right ${SCREWS}`,
    `features stage zone ${SCREWS}`,
    'seats measuring machine north west east',
    'clamp eye gauge',
    'reseat eye top left right',
    ...CLOSING,
  ],
  infrared: [
    'mount eye',
    'hologram reflection',
    'marks part or mounts axis',
    'coarse eye upper lower',
    'references part or mounts upper lower',
    // Two balls leave the turn about the line through them.
    'constrain other means 1',
    'clamp eye',
    'reseat eye upper lower',
    ...CLOSING,
  ],
};

test('every job has its expectation', () => {
  expect(JOB_NAMES).toEqual(Object.keys(EXPECTED).sort());
});

describe.each(JOB_NAMES)('%s', (name) => {
  test('its steps', () => {
    expect(orderOfWork(job(name)).map(told)).toEqual(EXPECTED[name]);
  });

  test('nothing is asked of what cannot show it', () => {
    expect(impossible(job(name))).toEqual([]);
  });
});

/** What is asked for fringes but sends none back, for a mark but is no screen, or of an id that the scenario has not. */
function impossible(design: Design): readonly string[] {
  const { scenario, references } = design;
  const kindOf = new Map(references.map(({ id, kind }) => [id, kind as string]));
  const kindBehind = new Map(scenario.patches.map(({ id, reference }) => [id, kindOf.get(reference)!]));
  const patchIds = new Set(kindBehind.keys());
  const tracked = new Set(references.filter(({ kind }) => kind === 'smr').map(({ id }) => id));
  return orderOfWork(design).flatMap(({ kind, references: set, patches, done, items, command }) => [
    ...patches.filter((id) => !patchIds.has(id)).map((id) => `${kind}: no patch ${id}`),
    ...set.filter((id) => !kindOf.has(id)).map((id) => `${kind}: no reference ${id}`),
    ...done.flatMap(({ of, quantity, unit, within }) => {
      const faults = Number.isFinite(within) && within >= 0 ? [] : [`${kind}: ${of} within ${within}`];
      if (unit === 'fringes' && of !== 'beam' && kindBehind.get(of) === 'screen')
        faults.push(`${kind}: fringes of the screen behind ${of}`);
      if (quantity === 'fringes' && of !== 'beam' && !patchIds.has(of))
        faults.push(`${kind}: fringes of ${of}`);
      return faults;
    }),
    ...(kind === 'marks' ? patches.filter((id) => kindBehind.get(id) !== 'screen') : []),
    ...(['references', 'coarse', 'reseat'].includes(kind)
      ? set.filter((id) => scenario.patches.every(({ reference }) => reference !== id))
      : []),
    ...(command === 'transfer' ? items.filter((id) => !tracked.has(id.replace('@part', ''))) : []),
    ...(command === 'steer' && patches.length === 0 ? [`${kind}: steer without readings`] : []),
  ]);
}

test('kinds of steps come in one order, and the null last; a seat of what a tracker takes follows the fringes', () => {
  for (const name of JOB_NAMES) {
    const kinds = orderOfWork(job(name)).map(({ kind }) => kind);
    const places = kinds.filter((kind) => kind !== 'seat').map((kind) => STEP_KINDS.indexOf(kind));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(kinds.at(-1)).toBe('null');
    expect(orderOfWork(job(name)).every(({ by }) => MEANS.includes(by))).toBe(true);
  }
});

const stepOf = (design: Design, kind: WorkStep['kind']): WorkStep =>
  orderOfWork(design).find((step) => step.kind === kind)!;

test('the nominal length of a gauge and the distance of a ball are those of its place', () => {
  const design = job('balls-near');
  // Balls stand on a circle of 84 mm, 130 mm from the pattern.
  const [gauge] = stepOf(design, 'measure').done;
  expect(gauge).toMatchObject({ of: 'gauge', quantity: 'length', within: 0.02, direction: [0, 0, 1] });
  expect(gauge!.value).toBeCloseTo(130, 9);
  const distances = stepOf(design, 'coarse').done.filter(({ quantity }) => quantity === 'distance');
  expect(distances.map(({ of }) => of)).toEqual(['top', 'left', 'right']);
  for (const { value } of distances) expect(value).toBeCloseTo(Math.sqrt(84 ** 2 + 130 ** 2), 9);
});

test('a patch is done at its bias to one reading, and has changed by more than 2√2 readings', () => {
  const design = job('infrared');
  expect(stepOf(design, 'references').done).toEqual([
    { of: 'lower-circle', quantity: 'fringes', value: 0, within: 0.1, unit: 'fringes' },
    { of: 'upper-sector', quantity: 'fringes', value: 2, within: 0.1, unit: 'fringes' },
  ]);
  const changes = stepOf(design, 'clamp').done.filter(({ quantity }) => quantity === 'change');
  expect(changes.map(({ within }) => within.toFixed(5))).toEqual(['0.28284', '0.28284']);
});

test('after reseating, the nest counts: half-width 2.5 µm by common practice, or as stated', () => {
  // A line across 10 mm at the distance s: 2D/(λs) fringes per mm; both in quadrature, twice the √2 of a difference.
  const limit = (nest: number, perMm: number): number =>
    2 * Math.SQRT2 * Math.hypot(0.1, (nest / Math.sqrt(3)) * perMm);
  const plain = job('smrs-on-a-stage');
  const perMm = (design: Design, id: string): number => {
    const { distance } = design.patches.find((patch) => patch.id === id)!;
    return (2 * 10) / (632.8e-6 * distance);
  };
  const of = (design: Design, id: string): number =>
    stepOf(design, 'reseat').done.find((each) => each.of === id)!.within;
  expect(of(plain, 'north-rim') / limit(0.0025, perMm(plain, 'north-rim'))).toBeCloseTo(1, 2);
  const loose = designOf(
    jobText('smrs-on-a-stage').replaceAll('diameter: 1.5 in,', 'diameter: 1.5 in, nest: 20 um,'),
  );
  expect(of(loose, 'north-rim') / limit(0.02, perMm(loose, 'north-rim'))).toBeCloseTo(1, 2);
});

/** The job without some of its references and their patches, or seats. */
function without(name: string, ...ids: readonly string[]): Design {
  const scenario = parse(jobText(name));
  for (const key of ['references', 'patches', 'seats'] as const)
    scenario[key] = scenario[key]?.filter(
      ({ id, reference }: { id: string; reference?: string }) =>
        !ids.includes(id) && !ids.includes(reference ?? ''),
    );
  return designOf(stringify(scenario));
}

const kindsOf = (design: Design): readonly string[] => orderOfWork(design).map(({ kind }) => kind);

test('no tracker is asked for where either side does not fix a motion', () => {
  expect(kindsOf(job('tracker'))).toContain('tracker');
  for (const design of [
    without('tracker', 'tower-3', 'tower-4'),
    without('tracker', 'rim-3', 'rim-4', 'groove'),
  ]) {
    expect(kindsOf(design)).not.toContain('tracker');
    expect(kindsOf(design)).toContain('constrain');
  }
});

test('seats that do not fix the frame settle nothing, and the part stays unmeasured', () => {
  const two = without('seats-and-machine', 'east');
  expect(stepOf(two, 'hologram').by).toBe('placing');
  expect(stepOf(two, 'seats').references).toEqual([]);
  expect(stepOf(two, 'constrain').items).toHaveLength(6);
});
