/**
 * The circle that the beam lights on the pattern, against the marginal ray traced by Snell's law: it leaves for the focus at
 * tan θ = 1/(2 · fNumber) in air and is bent where it enters glass that stands before the pattern. Everything that takes the beam's
 * width is asked: the rule for patches outside it, the camera's pixels, and the share of the light that a mark on a screen gets.
 */
import { describe, expect, it } from 'vitest';
import { refract, toPlane, type Vector } from '../independent/ray.ts';
import { reportOf, type Words } from './support/command.ts';

/** mm; the reports carry twelve digits. */
const TOLERANCE = 1e-8;

interface Finding {
  readonly rule: string;
  readonly where: string;
  readonly value: number;
  readonly limit: number;
  readonly message: string;
}

interface Report {
  readonly findings: readonly Finding[];
  readonly patches: readonly {
    readonly id: string;
    readonly mark: { readonly shareOfBeam: number } | null;
  }[];
}

interface Bench {
  readonly name: string;
  readonly focus: Vector;
  readonly fNumber: number;
  readonly thickness: number;
  readonly index?: number;
  readonly faces?: 'part' | 'interferometer';
}

const BENCHES: readonly Bench[] = [
  { name: 'diverging without glass', focus: [0, 0, -300], fNumber: 2, thickness: 0 },
  { name: 'diverging through a slab', focus: [3, -2, -300], fNumber: 2, thickness: 25, index: 1.5 },
  {
    name: 'fast, diverging, through dense glass',
    focus: [0, 0, -90],
    fNumber: 0.75,
    thickness: 20,
    index: 1.9,
  },
  { name: 'converging through a slab', focus: [-4, 1, 300], fNumber: 2, thickness: 25, index: 1.5 },
  {
    name: 'converging, the slab after the pattern',
    focus: [0, 0, 300],
    fNumber: 2,
    thickness: 25,
    index: 1.5,
    faces: 'interferometer',
  },
  {
    name: 'diverging, the slab after the pattern',
    focus: [0, 0, -300],
    fNumber: 2,
    thickness: 25,
    index: 1.5,
    faces: 'interferometer',
  },
];

/** Of the ray whose way in air, with no glass anywhere, runs through the focus at 1/(2 · fNumber) to the axis. */
function tracedRadius({ focus, fNumber, thickness, index = 1, faces = 'part' }: Bench): number {
  const angle = Math.atan(1 / (2 * fNumber));
  const before = faces === 'part' ? thickness : 0;
  // Outward from a focus behind the pattern, inward to one ahead of it.
  const outward = focus[2] < 0 ? 1 : -1;
  const direction: Vector = [outward * Math.sin(angle), 0, Math.cos(angle)];
  const entering = toPlane(focus, direction, -before).at;
  const inside = before > 0 ? refract(direction, 1, index) : direction;
  return Math.abs(toPlane(entering, inside, 0).at[0] - focus[0]);
}

const PIXELS = 700;
const WIDTH = 0.8;

const scenario = (bench: Bench, radius: number): Words => {
  const { focus, fNumber, thickness, index, faces } = bench;
  const glass = thickness === 0 ? {} : { thickness, index, patternFaces: faces ?? 'part' };
  const patch = (id: string, distance: number): Words => ({
    id,
    reference: 'screen',
    focus: 'point',
    // By 3-4-5 off the beam's axis.
    centre: [focus[0] + 0.6 * distance, focus[1] - 0.8 * distance],
    outline: { circle: { diameter: WIDTH } },
  });
  return {
    interferometer: { focus, fNumber, pixelsAcrossBeam: PIXELS },
    substrate: { outline: { circle: { diameter: 500 } }, ...glass },
    process: { kind: 'chrome', dutyCycle: 0.5, minFeature: 1e-4 },
    references: [{ id: 'screen', kind: 'screen', at: [10, 5, 900] }],
    patches: [
      patch('inside', radius - WIDTH / 2 - 1e-5),
      patch('outside', radius - WIDTH / 2 + 1e-5),
      patch('middle', 0),
    ],
  };
};

describe.each(BENCHES)('$name', (bench) => {
  const radius = tracedRadius(bench);
  const report = reportOf<Report>(scenario(bench, radius));
  const found = async (rule: string): Promise<readonly Finding[]> =>
    (await report).findings.filter((finding) => finding.rule === rule);

  it('only what reaches past the marginal ray is unlit', async () => {
    const unlit = await found('unlit');
    expect(unlit.map(({ where }) => where)).toEqual(['outside']);
    expect(Math.abs(unlit[0]!.limit - radius)).toBeLessThan(TOLERANCE);
    expect(Math.abs(unlit[0]!.value - (radius + 1e-5))).toBeLessThan(TOLERANCE);
  });

  it('the camera’s pixels span its diameter', async () => {
    const pixels = (WIDTH / (2 * radius)) * PIXELS;
    const few = (await report).findings.filter(({ where, value }) => where === 'middle' && value < 20);
    expect(few).toHaveLength(1);
    expect(Math.abs(few[0]!.value / pixels - 1)).toBeLessThan(1e-9);
  });

  it('a mark’s share of the light is that of its patch in the circle, times the order’s efficiency', async () => {
    // Amplitude grating of duty 1/2, first order: 1/π² (J. W. Goodman, Introduction to Fourier Optics, 4.4).
    const share = (WIDTH / 2 / radius) ** 2 / Math.PI ** 2;
    const { mark } = (await report).patches.find(({ id }) => id === 'middle')!;
    expect(Math.abs(mark!.shareOfBeam / share - 1)).toBeLessThan(1e-9);
  });
});
