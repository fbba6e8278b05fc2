/**
 * Phases of a scenario that gives the vacuum wavelength, the air and the glass by name, as the phase command prints them, against
 * optical paths found by brute force in absolute indices: Φ m λ_vacuum = n_air (E_out − E_in), waves at order 1.
 * Index of air: P. E. Ciddor, Appl. Opt. 35, 1566 (1996), tables 1 and 3, 633 nm. Index of fused silica against air: I. H. Malitson,
 * J. Opt. Soc. Am. 55, 1205 (1965).
 */
import { expect, test } from 'vitest';
import { datumlight } from '../cli/support/run.ts';
import { type Place, pathFromEntry, pathThroughExit, toLine } from '../independent/fermat.ts';
import { malitson } from '../independent/media.ts';
import { dot, minus, normed, size } from '../independent/ray.ts';
import { fileOf, type Point, phasesOf, type Words } from './support/command.ts';

const VACUUM = 633e-6;
/** What the printed tables are rounded to is 5e-10 of a few thousand waves. */
const TOLERANCE = 2e-5;

/** As the scenario may write them, and the refractivity that the paper prints. */
const AIRS: readonly (readonly [air: Words, refractivity: number])[] = [
  [{ temperature: '20 degC', pressure: '80 kPa', humidity: 0 }, 21458.0e-8],
  [{ temperature: 50, pressure: 120_000, humidity: 1 }, 28792.4e-8],
  [{ temperature: '303.15 K', pressure: '1 bar', humidity: '0 %' }, 25937.2e-8],
];

const THICKNESS = 12;
const BEAMS = {
  diverging: { words: { focus: [4, -3, -320] }, sign: 1, focus: [4, -3, -320] as Place },
  converging: { words: { focus: [0, 20, 410] }, sign: -1, focus: [0, 20, 410] as Place },
  // 3-4-12 is 13 long.
  collimated: { words: { collimated: true, direction: [3, -4, 12] }, along: normed([3, -4, 12]) },
} as const;
const TARGETS = {
  point: { at: [40, 150, 160] as Place, order: 1 },
  line: { at: [-190, 260, 700] as Place, order: -1, lineAngle: 35 },
} as const;
const CENTRE: Point = [8, 57];
const OFFSETS: readonly Point[] = [
  [-6, -5],
  [2, 6],
  [6, 0.5],
];

type Beam = keyof typeof BEAMS;
type Focus = keyof typeof TARGETS;
type Faces = 'part' | 'interferometer';

function scenario(beam: Beam, focus: Focus, faces: Faces, air: Words): Words {
  const { at, order, ...line } = TARGETS[focus];
  return {
    light: { vacuumWavelength: '633 nm', air },
    interferometer: BEAMS[beam].words,
    substrate: {
      outline: { circle: { diameter: 150 } },
      thickness: THICKNESS,
      glass: 'fused silica',
      patternFaces: faces,
    },
    references: [{ id: 'r', kind: 'smr', diameter: '1.5 in', at }],
    patches: [
      {
        id: 'p',
        reference: 'r',
        focus,
        centre: CENTRE,
        outline: { circle: { diameter: 14 } },
        order,
        ...line,
      },
    ],
  };
}

/** Indices of air and glass, absolute. */
interface Media {
  readonly air: number;
  readonly glass: number;
  readonly vacuumWavelength: number;
}

const media = (refractivity: number): Media => {
  const air = 1 + refractivity;
  return { air, glass: air * malitson((VACUUM / air) * 1e3), vacuumWavelength: VACUUM };
};

/** Waves at order 1 of each point, less that at the centre. */
function expected(beam: Beam, focus: Focus, faces: Faces, { air, glass, vacuumWavelength }: Media): number[] {
  const { at: target, order } = TARGETS[focus];
  const relative = glass / air;
  const chief = normed(minus(target, [...CENTRE, 0]));
  const inPlane: Place = [Math.cos((35 * Math.PI) / 180), Math.sin((35 * Math.PI) / 180), 0];
  const along = dot(inPlane, chief);
  const line = normed(minus(inPlane, chief.map((c) => c * along) as unknown as Place));
  const light = BEAMS[beam];
  const arriving = (q: Place): number =>
    'along' in light ? dot(q, light.along) : light.sign * size(minus(q, light.focus));
  const leaving = (q: Place): number =>
    focus === 'point' ? size(minus(target, q)) : toLine(q, target, line);
  const waves = ([x, y]: Point): number => {
    const at: Place = [x, y, 0];
    const incoming = faces === 'part' ? pathFromEntry(at, THICKNESS, relative, arriving) : arriving(at);
    const outgoing =
      faces === 'interferometer' ? pathThroughExit(at, THICKNESS, relative, leaving) : leaving(at);
    return (air * (-outgoing - incoming)) / (order * vacuumWavelength);
  };
  const zero = waves(CENTRE);
  return OFFSETS.map(([dx, dy]) => waves([CENTRE[0] + dx, CENTRE[1] + dy]) - zero);
}

const farthest = (one: readonly number[], other: readonly number[]): number =>
  Math.max(...one.map((value, k) => Math.abs(value - other[k]!)));

const CASES = (Object.keys(BEAMS) as Beam[]).flatMap((beam, k) =>
  (['point', 'line'] as const).flatMap((focus, l) =>
    (['part', 'interferometer'] as const).map((faces, m) => {
      const [air, refractivity] = AIRS[(k + l + m) % AIRS.length]!;
      return { beam, focus, faces, air, refractivity };
    }),
  ),
);

test.each(CASES)('$beam beam, $focus focus, pattern faces the $faces, in $air', async (each) => {
  const { beam, focus, faces, air, refractivity } = each;
  const points = OFFSETS.map(([dx, dy]): Point => [CENTRE[0] + dx, CENTRE[1] + dy]);
  const printed = await phasesOf(scenario(beam, focus, faces, air), 'p', points);
  const right = media(refractivity);
  const off = (wrong: Partial<Media>): number =>
    farthest(printed, expected(beam, focus, faces, { ...right, ...wrong }));
  expect(off({})).toBeLessThan(TOLERANCE);

  // What an error of the program would print is far from that: no index of air, its square, or the wrong way.
  const n = right.air;
  for (const wavelength of [VACUUM * n, VACUUM / n, VACUUM * n * n])
    expect(off({ vacuumWavelength: wavelength })).toBeGreaterThan(1000 * TOLERANCE);
  // The glass against vacuum, and its index at the vacuum wavelength. A plane wave has its direction behind a slab whatever the index.
  if (beam === 'collimated' && faces === 'part') return;
  for (const glass of [right.glass * n, right.glass / n])
    expect(off({ glass })).toBeGreaterThan(100 * TOLERANCE);
  expect(off({ glass: n * malitson(VACUUM * 1e3) })).toBeGreaterThan(2 * TOLERANCE);
});

test('the executable prints the same', async () => {
  const { beam, focus, faces, air, refractivity } = CASES[1]!;
  const file = fileOf(scenario(beam, focus, faces, air));
  const points = OFFSETS.map(([dx, dy]) => `${CENTRE[0] + dx},${CENTRE[1] + dy}\n`);
  const { code, stdout } = await datumlight(['phase', file, '--patch', 'p', '--points', '-'], {
    input: `x_mm,y_mm\n${points.join('')}`,
  });
  const printed = stdout.trimEnd().split('\n').slice(1);
  expect(code).toBe(0);
  expect(
    farthest(
      printed.map((line) => Number(line.split(',')[2])),
      expected(beam, focus, faces, media(refractivity)),
    ),
  ).toBeLessThan(TOLERANCE);
});
