/**
 * The order of work on the sheet against the scenario: the steps in their order; every patch and reference named where it has its turn, and
 * none that is not there; nothing asked that the design cannot show.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { SCENES, scenarioText } from './support/operator-scenes.ts';
import { namesIn, numberOf, numbersOf, SHEET, WORK } from './support/operator-words.ts';
import { datumlight, example, folder, scenarioFile } from './support/run.ts';
import { patchSections, plainText } from './support/sheet-text.ts';

const [plain, , , collimated, collimatedGlass] = SCENES as readonly (typeof SCENES)[number][];
const bare = { ...collimated!, references: [], patches: [] };
const RING = { id: 'round', reference: 'return-ring', focus: 'return', centre: [0, 0] };
const DATUMS = {
  land: { sphere: { centre: [0, 0, 348], diameter: 700 } },
  face: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
  flank: { cone: { apex: [0, 0, 500], axis: [0, 0, 1], angle: '10 deg' } },
};

interface Bench {
  readonly name: string;
  readonly file: () => string;
  readonly faces: 'part' | 'interferometer';
  readonly side?: 'before' | 'after';
  /** What shows how the hologram lies; undefined: nothing does. */
  readonly ring?: string;
  readonly screens?: { readonly patches: readonly string[]; readonly on: readonly string[] };
  readonly seen: readonly string[];
  readonly touching?: readonly string[];
  readonly fixed?: readonly string[];
  readonly onMounts?: readonly string[];
  readonly unsaid?: readonly string[];
  /** On the part, for a tracker that ties it to what is on mounts. */
  readonly tracked?: readonly string[];
  readonly sphere?: readonly string[];
  readonly plane?: readonly string[];
  /** How many motions of the part nothing shows. */
  readonly unseen?: number;
  readonly measured?: readonly string[];
}

const withRings = (bias: Readonly<Record<string, unknown>>): string =>
  scenarioText(bare, {
    part: { origin: [0, 0, 300], datums: DATUMS },
    references: [
      { id: 'return-ring', kind: 'return' },
      ...['land', 'face'].map((datum) => ({ id: `on-${datum}`, kind: 'datum', datum })),
    ],
    patches: [
      { ...RING, outline: { ring: { inner: 132, outer: 138 } }, ...bias },
      ...[
        ['land', 80, 86],
        ['face', 110, 116],
      ].map(([name, inner, outer]) => ({
        ...{ id: `see-${name}`, reference: `on-${name}`, focus: 'normal', centre: [0, 0] },
        outline: { ring: { inner, outer } },
      })),
    ],
  });

const MEASURED = [
  { id: 'spacer', reference: 'far', direction: [0, 0, 1], uncertainty: '5 um' },
  { id: 'indicator', reference: 'aside', direction: [0, 1, 0], uncertainty: '5 um' },
];
const IDS = ['ball-plain', 'ball-tilt', 'ball-roof', 'line-roof', 'line-plain', 'line-tilt', 'line-oblique'];
const SCREEN = { patches: ['on-screen'], on: ['wall'] };
/** Of the three scenes: their places are in the substrate frame, and nothing says what carries them. */
const UNSAID = ['plain-ball', 'tilted-ball', 'roofed-ball', 'far', 'aside'];
const BENCHES: readonly Bench[] = [
  {
    name: 'a diverging beam and no ring',
    file: () => scenarioFile(scenarioText(plain!, { measurements: MEASURED })),
    measured: ['spacer', 'indicator'],
    unsaid: UNSAID,
    faces: 'part',
    seen: IDS,
    screens: SCREEN,
  },
  {
    ...{ name: 'a collimated beam, whose reflection has a null', ring: 'its reflection' },
    ...{ file: () => scenarioFile(scenarioText(collimatedGlass!)), faces: 'interferometer', side: 'after' },
    ...{ seen: IDS, screens: SCREEN, unsaid: UNSAID },
  },
  {
    ...{ name: 'a collimated beam that comes obliquely', faces: 'part', seen: IDS, screens: SCREEN },
    unsaid: UNSAID,
    file: () =>
      scenarioFile(scenarioText({ ...collimated!, beam: { ...collimated!.beam, direction: [0.01, 0, 1] } })),
  },
  {
    ...{ name: 'everything on one hologram', file: () => example('full-bench') },
    ...{
      faces: 'part',
      side: 'before',
      ring: 'return-ring',
      seen: ['left-up', 'left-across', 'right-up', 'right-across'],
    },
    screens: { patches: ['cross-flat', 'cross-upright'], on: ['wall'] },
    ...{ sphere: ['land'], plane: ['face'], fixed: ['left', 'right'] },
  },
  {
    ...{
      name: 'rings alone',
      file: () => scenarioFile(withRings({})),
      faces: 'part',
      ring: 'round',
      seen: [],
    },
    ...{ sphere: ['see-land'], plane: ['see-face'], unseen: 1 },
  },
  {
    ...{
      name: 'a tracker’s mirror on rim and face',
      file: () => example('transfer-mirror-on-rim'),
      faces: 'part',
      side: 'before',
    },
    seen: [1, 2, 3, 4].flatMap((k) => [`tower-${k}-x`, `tower-${k}-y`]),
    touching: ['rim-1', 'rim-2', 'rim-3', 'rim-4', 'groove'],
    onMounts: ['tower-1', 'tower-2', 'tower-3', 'tower-4'],
    tracked: ['rim-1', 'rim-2', 'rim-3', 'rim-4', 'groove'],
  },
];

interface Page {
  readonly work: string;
  readonly steps: readonly string[];
  readonly sections: ReadonlyMap<string, string>;
}
const pages = new Map<string, Page>();

beforeAll(async () => {
  for (const { name, file } of BENCHES) pages.set(name, await pageOf(file()));
});

async function pageOf(file: string): Promise<Page> {
  const out = join(folder(), 'out');
  const { stderr } = await datumlight(['make', file, '--draft', '--out', out]);
  expect(stderr).not.toMatch(/not be used|out of range/);
  const html = readFileSync(join(out, 'sheet.html'), 'utf8');
  const [, list] = /<ol class="steps">([\s\S]*?)<\/ol>/.exec(html)!;
  const steps = list!
    .split(/<li>(?=<strong>)/)
    .slice(1)
    .map(plainText);
  const sections = new Map([...patchSections(html)].map(([id, section]) => [id, plainText(section)]));
  return { work: steps.join(' '), steps, sections };
}

const placeOf = (step: string): number => WORK.heads.findIndex((head) => step.startsWith(head));

describe.each(BENCHES)('$name', (bench) => {
  const page = (): Page => pages.get(bench.name)!;
  const groups = (words: RegExp, text = page().work): Record<string, string | undefined> =>
    words.exec(text)?.groups ?? {};
  const under = (head: string): string =>
    page()
      .steps.filter((step) => step.startsWith(head))
      .join(' ');

  test('the steps stand in their order, and only those that the bench can take', () => {
    const places = page().steps.map(placeOf);
    expect(places).not.toContain(-1);
    // A tracker's references are seated after those that show fringes.
    const contact = WORK.heads.indexOf('Contact.');
    const others = places.filter((place) => place !== contact);
    expect(others).toEqual([...others].sort((a, b) => a - b));
    const wanted: Readonly<Record<string, boolean>> = {
      'Coarse, by marks.': bench.screens !== undefined,
      'Contact.': bench.touching !== undefined,
      'Coarse, by a scale and a card.': bench.seen.length > 0,
      'Lengths measured otherwise.': bench.measured !== undefined,
      References: bench.seen.length > 0,
      'The part itself, at normal incidence.': bench.plane !== undefined,
      'The part, by laser tracker.': bench.tracked !== undefined,
      'What no reading shows.': bench.unseen !== undefined,
      'Reseating.': bench.seen.length > 0,
    };
    for (const [head, there] of Object.entries(wanted))
      expect({ head, there: under(head) !== '' }).toEqual({ head, there });
  });

  test('the hologram: the right way round, and set by what shows how it lies', () => {
    expect(groups(WORK.mount, under('Hologram into'))).toMatchObject({
      faces: bench.faces,
      side: bench.side,
    });
    const step = under('Hologram to the beam');
    expect(WORK.reflection.test(step)).toBe(bench.ring === 'its reflection');
    expect(groups(WORK.ring, step).ring).toBe(bench.ring === 'its reflection' ? undefined : bench.ring);
    expect(WORK.byScale.test(step)).toBe(bench.ring === undefined);
    expect(WORK.fewest.test(step)).toBe(bench.ring !== undefined);
  });

  test('by eye: the screens first, and a card only where there is a reference to set', () => {
    const marks = under('Coarse, by marks.');
    expect(namesIn(groups(WORK.screen, marks).patches)).toEqual(bench.screens?.patches ?? []);
    const { on, standing } = groups(WORK.screens, marks);
    expect(namesIn(on ?? standing)).toEqual(bench.screens?.on ?? []);
    const step = under('Coarse, by a scale');
    expect(WORK.card.test(step)).toBe(bench.seen.length > 0);
    // Those whose own sections say that they cannot be read from where an eye sets a reference, half a millimetre off.
    const from = bench.seen.map((id) => ({
      id,
      mm: Math.min(...numbersOf(groups(SHEET.readableFrom, page().sections.get(id)!).from!)),
    }));
    const close = from.filter(({ mm }) => mm < 0.5);
    const { patches, every, mm } = groups(WORK.close, step);
    expect(every === undefined ? namesIn(patches) : bench.seen).toEqual(close.map(({ id }) => id));
    if (close.length > 0) expect(numberOf(mm!)).toBe(Math.min(...close.map((each) => each.mm)));
    expect(WORK.noneClose.test(step)).toBe(close.length === 0 && bench.seen.length > 0);
  });

  test('the references: every patch with fringes once, from the coarse to the fine', () => {
    const lists = page()
      .steps.filter((step) => step.startsWith('References'))
      .map((step) => namesIn(groups(WORK.sequence, step).patches));
    expect(lists.flat().sort()).toEqual([...bench.seen].sort());
    for (const named of lists) {
      const perFringe = named.map((id) => {
        const [first] = [...page().sections.get(id)!.matchAll(SHEET.whichWay)];
        return numberOf(first!.groups!.umPerFringe!);
      });
      for (const [k, um] of perFringe.entries())
        if (k > 0) expect(um).toBeLessThanOrEqual(perFringe[k - 1]! * (1 + SAME));
    }
  });

  test('what holds the references, what touches, and what a tracker measures', () => {
    const carried = page().steps.flatMap((step) => {
      const found = groups(WORK.carried, step);
      return found.references === undefined ? [] : [found];
    });
    for (const way of ['fixed', 'onMounts', 'unsaid'] as const) {
      const names = carried
        .filter((found) => found[way] !== undefined)
        .flatMap(({ references }) => namesIn(references));
      expect({ way, names }).toEqual({ way, names: bench[way] ?? [] });
    }
    const touching = [...under('Contact.').matchAll(WORK.touching)].map(
      ({ groups: found }) => found!.reference,
    );
    expect(touching).toEqual(bench.touching ?? []);
    const points = groups(WORK.points, under('The part, by laser tracker.'));
    expect(namesIn(points.part)).toEqual(bench.tracked ?? []);
    if (bench.tracked !== undefined) expect(namesIn(points.hologram)).toEqual(bench.onMounts);
  });

  test('the part: by the light that meets it for what that light shows, and what is measured otherwise or by nothing', () => {
    const step = under('The part itself');
    const idsBy = (words: RegExp): readonly string[] =>
      [...step.matchAll(words)].map(({ groups: found }) => found!.id!);
    expect(idsBy(WORK.sphere)).toEqual(bench.sphere ?? []);
    expect(idsBy(WORK.plane)).toEqual(bench.plane ?? []);
    const { motions = '' } = groups(WORK.unseen, under('What no reading shows.'));
    expect(motions.match(/to (?:move|turn) /g) ?? []).toHaveLength(bench.unseen ?? 0);
    for (const id of bench.measured ?? []) expect(under('Lengths measured otherwise.')).toContain(id);
  });
});

/** Sensitivities that agree to three digits are alike, and what is printed is rounded once more. */
const SAME = 0.006;

test('a ring with fringes of its own is brought to those, not to none', async () => {
  const { steps, sections } = await pageOf(
    scenarioFile(withRings({ bias: { shape: 'tilt', fringes: 3, direction: 30 } })),
  );
  expect(WORK.biased.exec(steps[1]!)!.groups).toEqual({ ring: 'round', fringes: '3' });
  expect(SHEET.biasAtPlace.exec(sections.get('round')!)!.groups).toMatchObject({ asked: '3', seen: '3' });
});
