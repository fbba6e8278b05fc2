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
  readonly centre?: readonly string[];
  readonly tilt?: readonly string[];
  readonly unseen?: readonly string[];
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
    ...{ centre: ['land'], tilt: ['face'], fixed: ['left', 'right'] },
  },
  {
    ...{
      name: 'rings alone',
      file: () => scenarioFile(withRings({})),
      faces: 'part',
      ring: 'round',
      seen: [],
    },
    ...{ centre: ['see-land'], tilt: ['see-face'], unseen: ['rz'] },
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
    unseen: ['x', 'y', 'z', 'rx', 'ry', 'rz'],
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
  const steps = [...html.matchAll(/<li><strong>[\s\S]*?<\/li>/g)]
    .map(([item]) => plainText(item))
    .filter((item) => WORK.heads.some((head) => item.startsWith(head)));
  const sections = new Map([...patchSections(html)].map(([id, section]) => [id, plainText(section)]));
  return { work: steps.join(' '), steps, sections };
}

describe.each(BENCHES)('$name', (bench) => {
  const page = (): Page => pages.get(bench.name)!;
  const groups = (words: RegExp, text = page().work): Record<string, string | undefined> =>
    words.exec(text)?.groups ?? {};

  test('the steps stand in their order', () => {
    expect(page().steps.map((step) => WORK.heads.findIndex((head) => step.startsWith(head)))).toEqual([
      0, 1, 2, 3, 4,
    ]);
  });

  test('the hologram: the right way round, and set by what shows how it lies', () => {
    const [step] = page().steps as [string];
    expect(groups(WORK.mount, step)).toMatchObject({ faces: bench.faces, side: bench.side });
    expect(groups(WORK.ring, step).by).toBe(bench.ring);
    expect(WORK.byScale.test(step)).toBe(bench.ring === undefined);
  });

  test('by eye: the screens first, and a card only where there is a reference to set', () => {
    const step = page().steps[1]!;
    const screen = groups(WORK.screen, step);
    expect(namesIn(screen.patches)).toEqual(bench.screens?.patches ?? []);
    expect(namesIn(screen.screens)).toEqual(bench.screens?.on ?? []);
    expect(WORK.noScreen.test(step)).toBe(bench.screens === undefined);
    expect(WORK.card.test(step)).toBe(bench.seen.length > 0);
    if (bench.screens !== undefined && bench.seen.length > 0)
      expect(step.search(WORK.screen)).toBeLessThan(step.search(WORK.card));
    // Those whose own sections say that they cannot be read from where an eye sets a reference, half a millimetre off.
    const from = bench.seen.map((id) => ({
      id,
      mm: Math.min(...numbersOf(groups(SHEET.readableFrom, page().sections.get(id)!).from!)),
    }));
    const close = from.filter(({ mm }) => mm < 0.5);
    const said = groups(WORK.close, step);
    expect(namesIn(said.patches)).toEqual(close.map(({ id }) => id));
    if (close.length > 0) expect(numberOf(said.mm!)).toBe(Math.min(...close.map(({ mm }) => mm)));
    expect(WORK.noneClose.test(step)).toBe(close.length === 0 && bench.seen.length > 0);
  });

  test('the references: every patch with fringes once, from the coarse to the fine', () => {
    const step = page().steps[2]!;
    const named = namesIn(groups(WORK.sequence, step).patches);
    expect([...named].sort()).toEqual([...bench.seen].sort());
    expect(WORK.noSequence.test(step)).toBe(bench.seen.length === 0);
    const perFringe = named.map((id) => {
      const [first] = [...page().sections.get(id)!.matchAll(SHEET.whichWay)];
      return numberOf(first!.groups!.umPerFringe!);
    });
    for (const [k, um] of perFringe.entries())
      if (k > 0) expect(um).toBeLessThanOrEqual(perFringe[k - 1]! * (1 + SAME));
  });

  test('the part: by what touches it, by the light that meets it for what that light shows, and by what is measured otherwise', () => {
    const step = page().steps[3]!;
    expect(namesIn(groups(WORK.touching, step).references)).toEqual(bench.touching ?? []);
    for (const way of ['fixed', 'onMounts', 'unsaid'] as const)
      expect(namesIn(groups(WORK[way], step).references)).toEqual(bench[way] ?? []);
    const { patches, todo = '' } = groups(WORK.square, step);
    expect(namesIn(patches)).toEqual([...(bench.centre ?? []), ...(bench.tilt ?? [])]);
    expect(namesIn(groups(WORK.centre, todo).patches)).toEqual(bench.centre ?? []);
    expect(namesIn(groups(WORK.tilt, todo).patches)).toEqual(bench.tilt ?? []);
    expect(namesIn(groups(WORK.unseen, step).degrees)).toEqual(bench.unseen ?? []);
    expect(namesIn(groups(WORK.measured, page().steps[4]).names)).toEqual(bench.measured ?? []);
  });
});

/** Sensitivities that agree to three digits are alike, and what is printed is rounded once more. */
const SAME = 0.006;

test('a ring with fringes of its own is brought to those, not to none', async () => {
  const { steps, sections } = await pageOf(
    scenarioFile(withRings({ bias: { shape: 'tilt', fringes: 3, direction: 30 } })),
  );
  expect(WORK.ring.exec(steps[0]!)!.groups!.until).toBe('those that its section states');
  expect(SHEET.biasAtPlace.exec(sections.get('round')!)!.groups).toMatchObject({ asked: '3', seen: '3' });
});
