/**
 * Which way the camera is turned, through the executable: pictures, the sheet's clock positions, readings as seen, and the check after the
 * first moves. A picture turned clockwise by a quarter has each hour three later; a mirrored one runs its clock backward.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { seenBy, type Turn } from '../independent/camera-seen.ts';
import { readGrey } from './support/grey-pictures.ts';
import { datumlight, example, folder, scenarioFile } from './support/run.ts';
import { plainText } from './support/sheet-text.ts';

const BALLS = example('diverging-balls');
const bench = (camera: string): string => scenarioFile(`camera: ${camera}\n`, 'bench.yml');
const PLAIN: Turn = { view: 'interferometer', turned: 0, mirrored: false };

/** Options, and what they come to; options go before the file. */
const WAYS: readonly (readonly [string, () => readonly string[], Turn])[] = [
  [
    'a bench file',
    () => ['--bench', bench('{turned: 90, mirrored: true}')],
    { ...PLAIN, turned: 90, mirrored: true },
  ],
  ['options', () => ['--view', 'part', '--turned', '270'], { ...PLAIN, view: 'part', turned: 270 }],
  [
    'options over a bench file',
    () => ['--bench', bench('{view: part, turned: 90, mirrored: true}'), '--no-mirrored', '--turned', '180'],
    { view: 'part', turned: 180, mirrored: false },
  ],
];

describe('pictures', () => {
  const rowsOf = async (...args: readonly string[]) => {
    const out = join(folder(), 'out');
    const { stdout } = await datumlight([
      'fringes',
      BALLS,
      '--out',
      out,
      '--json',
      '--patch',
      'left',
      '--size',
      '40',
      ...args,
    ]);
    const { orientation, pictures } = JSON.parse(stdout);
    const grey = (file: string): number[][] => {
      const { width, height, at } = readGrey(readFileSync(join(out, file)));
      return Array.from({ length: height }, (_, row) =>
        Array.from({ length: width }, (_, column) => at(column, row)),
      );
    };
    const files: string[] = pictures.map(({ file }: { file: string }) => file);
    return { orientation, pictures: files.map(grey), files };
  };
  let plain: Awaited<ReturnType<typeof rowsOf>>;
  beforeAll(async () => {
    plain = await rowsOf('--camera');
  });

  test.each(WAYS)('are turned as %s says', async (_, options, turn) => {
    const { orientation, pictures } = await rowsOf('--camera', ...options());
    expect(orientation).toEqual(turn);
    expect(pictures).toHaveLength(plain.pictures.length);
    for (const [k, picture] of pictures.entries()) expect(picture).toEqual(seenBy(turn, plain.pictures[k]!));
  });

  test('have names that sort in the order in which they were made', () => {
    expect(plain.files.toSorted()).toEqual(plain.files);
    expect(plain.files[0]).toMatch(/aperture/);
    expect(plain.files[1]).toMatch(/patch-2-left-1-far-off/);
  });
});

describe('the sheet', () => {
  const NUMBER = /(\d+) o’clock|half past (\d+)/g;
  const sheets = new Map<string, string>();
  const hoursOf = (text: string): readonly number[] =>
    [...text.matchAll(NUMBER)].map(([, whole, half]) =>
      whole === undefined ? Number(half) + 0.5 : Number(whole),
    );
  const sheetOf = async (name: string, ...args: readonly string[]): Promise<void> => {
    const out = join(folder(), 'out');
    await datumlight(['make', BALLS, '--out', out, '--quiet', ...args]);
    sheets.set(name, readFileSync(join(out, 'sheet.html'), 'utf8'));
  };
  beforeAll(async () => {
    await sheetOf('plain');
    await sheetOf('turned', '--turned', '90');
    await sheetOf('mirrored', '--bench', bench('{mirrored: true}'));
  });
  const textOf = (name: string): string => plainText(sheets.get(name)!);

  test('has its clock positions turned with the picture, and clockwise kept', () => {
    const [plain, turned] = ['plain', 'turned'].map(textOf) as [string, string];
    expect(hoursOf(plain).length).toBeGreaterThan(6);
    const later = hoursOf(plain).map((hour) => ((hour + 3 - 0.5) % 12) + 0.5);
    expect(hoursOf(turned).map((hour) => hour % 12)).toEqual(later.map((hour) => hour % 12));
    expect(turned.match(/turn (counter)?clockwise/g)).toEqual(plain.match(/turn (counter)?clockwise/g));
  });

  test('has its clock run backward in a mirrored picture, and clockwise reversed', () => {
    const [plain, mirrored] = ['plain', 'mirrored'].map(textOf) as [string, string];
    expect(hoursOf(mirrored).map((hour) => hour % 12)).toEqual(
      hoursOf(plain).map((hour) => (24 - hour) % 12),
    );
    const senses = plain.match(/turn (counter)?clockwise/g)!;
    expect(senses.length).toBeGreaterThan(2);
    const other = (words: string): string =>
      /counter/.test(words) ? 'turn clockwise' : 'turn counterclockwise';
    expect(mirrored.match(/turn (counter)?clockwise/g)).toEqual(senses.map(other));
  });

  test('draws the axes and the patches as the camera shows them', () => {
    const placeOf = (name: string, words: string) => {
      const drawing = sheets.get(name)!.match(/<figure class="view">[\s\S]*?<\/figure>/)![0];
      const [, x, y] = new RegExp(`<text x="([^"]+)" y="([^"]+)"[^>]*>${words}</text>`).exec(drawing)!;
      return [Number(x), -Number(y)] as const;
    };
    // Patch 1 stands at (0, 59): up; turned clockwise by a quarter at the right.
    expect(placeOf('plain', '1')[1]).toBeGreaterThan(50);
    expect(placeOf('turned', '1')[0]).toBeGreaterThan(50);
    // Patch 2 at (−51, −30): at the right as seen from the interferometer, at the left in a mirrored picture.
    expect(placeOf('plain', '2')[0]).toBeGreaterThan(45);
    expect(placeOf('mirrored', '2')[0]).toBeLessThan(-45);
    const [x, y] = [placeOf('turned', '\\+x'), placeOf('turned', '\\+y')];
    // x ran to the left and now up, y ran up and now to the right.
    expect(x[1]! - y[1]!).toBeGreaterThan(10);
    expect(y[0]! - x[0]!).toBeGreaterThan(10);
  });

  test('says what tells the orientation, and that the isosceles places of the balls do not', () => {
    const text = textOf('plain');
    expect(text).toMatch(/Which way the camera is turned/);
    expect(text).toMatch(/same in 2 of the eight orientations \(as drawn; mirrored\)/);
    // Patch 2 stands below and to the right, as seen from the interferometer.
    expect(text).toMatch(/Cover patch 2 \(left\).*toward 4 o’clock must go dark/);
  });
});

describe('readings as seen', () => {
  const moves = async (readings: string, ...args: readonly string[]) => {
    const { stdout } = await datumlight(['steer', BALLS, '--readings', '-', '--json', ...args], {
      input: readings,
    });
    return JSON.parse(stdout).references.map(({ move_um }: { move_um: unknown }) => move_um);
  };
  /** Of the balls' first sense, along x: in the picture from the interferometer x runs to 9 o'clock. */
  const seen = (hour: number): string => `readings: [{patch: top, fringes: 2, toward: ${hour}}]\n`;
  let signed: unknown;
  beforeAll(async () => {
    signed = await moves('readings: [{patch: top, fringes: [2, 0]}]\n');
  });
  const nearly = (value: unknown): unknown =>
    JSON.parse(JSON.stringify(value), (_, one) => (typeof one === 'number' ? expect.closeTo(one, 3) : one));

  test.each([
    ['as it is', 9, ''],
    ['turned a quarter clockwise', 12, 'camera: {turned: 90}\n'],
    ['turned a quarter the other way', 6, 'camera: {turned: 270}\n'],
    ['from the part', 3, 'camera: {view: part}\n'],
    ['mirrored, then turned', 6, 'camera: {mirrored: true, turned: 90}\n'],
  ])('toward an hour are those along the sense: %s', async (_, hour, camera) => {
    expect(await moves(seen(hour) + camera)).toEqual(nearly(signed));
  });

  test.each([
    // The ball stands off along +x, 9 o'clock from the interferometer: it is to go toward 3.
    ['as it is', [], '3 o’clock'],
    ['turned a quarter clockwise', ['--turned', '90'], '6 o’clock'],
    ['from the part', ['--view', 'part'], '9 o’clock'],
  ])('the move goes toward an hour of the picture: %s', async (_, args, words) => {
    const { stdout } = await datumlight(['steer', BALLS, '--readings', '-', ...args], {
      input: 'readings: [{patch: top, fringes: [2, 0], power: 0}]\n',
    });
    expect(stdout).toMatch(new RegExp(`^  top +x −6\\.99.*\\(in the picture toward ${words}\\)`, 'm'));
  });

  test('an option goes before the readings file, and that before the bench file', async () => {
    const camera = 'camera: {turned: 90}\n';
    expect(await moves(seen(12) + camera, '--bench', bench('{turned: 180}'))).toEqual(nearly(signed));
    expect(await moves(seen(3) + camera, '--turned', '180')).toEqual(nearly(signed));
  });
});

describe('the check after the first moves', () => {
  /** The part shifted, µm: each ball goes along. */
  const OFF = [8, -6, 500] as const;
  interface Reported {
    readonly id: string;
    readonly senses: readonly (readonly number[])[];
    readonly fringesPerUmAlongSenses: readonly number[];
  }
  let patches: readonly Reported[] = [];
  beforeAll(async () => {
    patches = JSON.parse((await datumlight(['check', BALLS, '--json'])).stdout).patches;
  });
  /** So many times what the shift shows. */
  const readings = (times: number): string =>
    `readings:\n${patches
      .map(({ id, senses, fringesPerUmAlongSenses }) => {
        const [a, b, power] = senses.map((sense, k) => {
          const along = sense.reduce((sum, value, axis) => sum + value * OFF[axis]!, 0);
          return (times * along * fringesPerUmAlongSenses[k]!).toFixed(3);
        });
        return `  - {patch: ${id}, fringes: [${a}, ${b}], power: ${power}}\n`;
      })
      .join('')}`;
  const readAfter = (times: number) =>
    datumlight(['steer', BALLS, '--readings', '-', '--before', scenarioFile(readings(1), 'before.yml')], {
      input: readings(times),
    });

  test('passes where the fringes are gone', async () => {
    const { code, stderr } = await readAfter(0.01);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  });

  test('tells no further moves where there are twice as many as before: all signs were wrong', async () => {
    const { code, stdout, stderr } = await readAfter(2);
    expect(code).toBe(2);
    expect(stderr).toMatch(/all signs were wrong.*\[error moves-reversed\]/);
    expect(stdout).toBe('');
  });
});

test.each([
  ['a file that is not there', ['--bench', 'nowhere.yml'], 'unreadable-file'],
  ['a turn by 45°', ['--bench', '-'], 'bad-value'],
])('%s is refused with its code', async (_, args, rule) => {
  for (const command of [
    ['fringes', BALLS, '--out', join(folder(), 'out')],
    ['make', BALLS, '--out', join(folder(), 'out')],
  ]) {
    const { code, stdout } = await datumlight([...command, '--json', ...args], {
      input: 'camera: {turned: 45}',
    });
    expect({ code, rules: JSON.parse(stdout).findings.map((one: { rule: string }) => one.rule) }).toEqual({
      code: 2,
      rules: [rule],
    });
  }
});
