/**
 * The main pattern in GDSII and OASIS, read back by readers of the test's own: points drawn at random on the surface, followed back along its
 * normals to the pattern, lie in a written line exactly where their path says so. Without --main the files hold the patches alone. mm, waves.
 */
import { describe, expect, it } from 'vitest';
import { patternWishes } from '../../../src/cli/commands/make-pattern.ts';
import { type Corner, type GdsPolygon, readGds } from '../../independent/gdsii.ts';
import { readOasis } from '../../independent/oasis.ts';
import { deviates } from '../../independent/random.ts';
import { followedBack, isoAsphere } from '../../independent/surface-sheets.ts';
import { designFrom, linePatch, type Words } from '../../metrology/support/design-from.ts';
import { patternFilesOf } from '../support/made-pattern.ts';

const WAVELENGTH = 632.8e-6;
const GLASS = { thickness: 6.35, index: 1.457 };
const [FOCUS, DUTY] = [500, 0.45];
const ORIGIN = [-105, 0, 300] as const;
const APERTURE = { radius: 1.6, centre: [161, 0] } as const;
const POINTS = 4000;
/** An edge may stray by 5 nm of a 3 µm period and the grid's rounding; the path by 2e-4. */
const UNJUDGED = 0.0025;
/** Layer and datatype of written zones. */
const WRITTEN = '1/0';

const words: Words = {
  process: { kind: 'etched', dutyCycle: DUTY },
  substrate: { outline: { circle: { diameter: 150 } }, ...GLASS, patternFaces: 'interferometer' },
  part: {
    origin: ORIGIN,
    datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -800, conic: -1 } } },
  },
  test: {
    surface: 'M',
    aperture: { circle: { diameter: 2 * APERTURE.radius, centre: APERTURE.centre } },
    margin: 0.05,
  },
  references: [{ id: 'ball', kind: 'ball', diameter: 25, at: [0, 300, 900] }],
  patches: [linePatch('side', 'ball', [0, 60], 0, 0.5)],
};
const design = designFrom(words);

function filesWith(main: boolean): { gds: Buffer; oas: Buffer } {
  const { files } = patternFilesOf(design, { pattern: ['gds', 'oas'], main });
  return { gds: files.get('pattern.gds')!, oas: files.get('pattern.oas')! };
}
const [asked, plain] = [filesWith(true), filesWith(false)];
const written = (polygons: readonly GdsPolygon[]): readonly GdsPolygon[] =>
  polygons.filter(({ layer, datatype }) => `${layer}/${datatype}` === WRITTEN);

const sheet = {
  height: isoAsphere(-800, -1),
  toSubstrate: ([x, y, z]: readonly number[]) => [x! + ORIGIN[0], y! + ORIGIN[1], z! + ORIGIN[2]] as const,
};
const followed = (x: number, y: number) => {
  const { on, path } = followedBack(sheet, x, y, GLASS);
  return { on, phase: (-path - Math.hypot(on[0], on[1], FOCUS)) / WAVELENGTH };
};

/** The phase at a place of the pattern: its surface point by Newton's method on difference quotients. */
function phaseAt([px, py]: Corner): number {
  let [x, y] = APERTURE.centre as readonly [number, number];
  for (let k = 0; k < 20; k++) {
    const h = 1e-2;
    const [at, right, up] = [followed(x, y).on, followed(x + h, y).on, followed(x, y + h).on];
    const [a, b, c, d] = [right[0] - at[0], up[0] - at[0], right[1] - at[1], up[1] - at[1]].map(
      (v) => v / h,
    ) as [number, number, number, number];
    const [ex, ey] = [px - at[0], py - at[1]];
    x += (d * ex - b * ey) / (a * d - b * c);
    y += (a * ey - c * ex) / (a * d - b * c);
  }
  return followed(x, y).phase;
}

const holds = (points: readonly Corner[], [x, y]: Corner): boolean =>
  points.reduce((inside, [ax, ay], k) => {
    const [bx, by] = points[(k + 1) % points.length]!;
    return ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax) ? !inside : inside;
  }, false);

/** Random points of the aperture, and how often a written polygon holds each. */
function judged(polygons: readonly GdsPolygon[]): { wrong: number; right: number; unjudged: number } {
  const boxes = polygons.map(({ points }) => {
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    return {
      points,
      left: Math.min(...xs),
      right: Math.max(...xs),
      bottom: Math.min(...ys),
      top: Math.max(...ys),
    };
  });
  const zero = phaseAt(design.main!.centre);
  const count = { wrong: 0, right: 0, unjudged: 0 };
  const { uniform } = deviates(7);
  for (let k = 0; k < POINTS; k++) {
    const [r, turn] = [APERTURE.radius * Math.sqrt(uniform()), 2 * Math.PI * uniform()];
    const { on, phase } = followed(
      APERTURE.centre[0] + r * Math.cos(turn),
      APERTURE.centre[1] + r * Math.sin(turn),
    );
    const part = phase - zero - Math.floor(phase - zero);
    const [x, y] = on;
    const times = boxes.filter(
      (box) => x >= box.left && x <= box.right && y >= box.bottom && y <= box.top && holds(box.points, on),
    ).length;
    if (Math.min(part, 1 - part, Math.abs(part - DUTY)) < UNJUDGED) count.unjudged++;
    else if (times === (part < DUTY ? 1 : 0)) count.right++;
    else count.wrong++;
  }
  return count;
}

describe('with --main', () => {
  const oasis = readOasis(asked.oas);
  const gds = readGds(asked.gds);
  it.each([
    ['OASIS', oasis.cells.get('main')!],
    ['GDSII', gds.polygons('main')],
  ])('%s has its lines in a cell of its own, none of the points wrong', (_, polygons) => {
    const zones = written(polygons);
    expect(zones.length).toBeGreaterThan(500);
    const { wrong, right, unjudged } = judged(zones);
    expect(wrong).toBe(0);
    expect(right).toBeGreaterThan(0.97 * POINTS);
    expect(right + unjudged).toBe(POINTS);
  });
  it('the top cell places it beside the patches', () => {
    expect(gds.tops).toHaveLength(1);
    const all = written(gds.polygons(gds.tops[0]!)).length;
    expect(all).toBe(written(gds.polygons('main')).length + written(gds.polygons('side')).length);
  });
  it('the patches stay as they are', () => {
    expect(oasis.cells.get('side')).toEqual(readOasis(plain.oas).cells.get('side'));
  });
});

it('without --main the files hold the patches alone, and say so', () => {
  const { cells, notes } = readOasis(plain.oas);
  expect([...cells.keys()]).not.toContain('main');
  expect(notes.map(({ text }) => text)).toContain('MAIN PATTERN: not in this file.');
  expect(readOasis(asked.oas).notes.map(({ text }) => text)).not.toContain('MAIN PATTERN: not in this file.');
});

it('--main is refused where there is no main pattern, and where no pattern file is asked for', () => {
  const { test: _, ...untested } = words;
  const refusal = (made: ReturnType<typeof patternWishes>) => ('refused' in made ? made.refused : undefined);
  const draft = { draft: false };
  expect(refusal(patternWishes(designFrom(untested), { pattern: ['oas'], main: true }, draft))).toMatchObject(
    {
      where: '--main',
      message: 'the scenario has no main pattern',
    },
  );
  expect(refusal(patternWishes(design, { main: true }, draft))).toMatchObject({
    where: '--main',
    hint: 'add --pattern oas, or leave out --main',
  });
});
