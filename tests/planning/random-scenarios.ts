/** Scenarios that can be planned, made by chance: wishes are set by what a plain layout reaches, with some room. */
import { type Random, randomFrom } from '../../src/algebra/random.ts';

export function randomScenario(seed: string): string {
  const random = randomFrom(seed);
  const between = (a: number, b: number): number => Number((a + (b - a) * random.uniform()).toFixed(2));
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random.uniform() * items.length)]!;
  const near = random.uniform() < 0.5;
  const diameter = between(120, 220);
  const main = between(0.4, 0.62) * diameter;
  const scenario = {
    format: 'datumlight/1',
    title: seed,
    light: { wavelength: pick(['632.8 nm', '532 nm']) },
    interferometer: {
      placed: { x: '20 um', y: '20 um', z: '20 um', rx: '40 urad', ry: '40 urad' },
      focus: [0, 0, near ? -between(400, 900) : between(1000, 2500)],
      pixelsAcrossBeam: Math.round(between(1000, 2400)),
    },
    substrate: {
      outline: pick([{ circle: { diameter } }, { rectangle: { width: diameter, height: diameter * 0.9 } }]),
      ...pick([
        {},
        { thickness: 6.35, glass: 'fused silica', patternFaces: pick(['part', 'interferometer']) },
      ]),
      edgeMargin: 3,
      clearance: between(0.2, 1),
    },
    keepOuts: [{ id: 'main', outline: { circle: { diameter: Number(main.toFixed(1)) } } }],
    process: { kind: 'etched', minFeature: '0.8 um' },
    part: { origin: [0, 0, near ? 160 : 1200] },
    references: near ? nearBalls(random, diameter, main) : farCubes(random, between),
    patches: [],
    // Wide enough for three references that stand well apart; how near it comes is the planner's matter.
    wanted: near
      ? { x: '12 um', y: '12 um', z: '60 um', rx: '600 urad', ry: '600 urad', rz: '300 urad' }
      : { x: '20 um', y: '20 um', z: '250 um', rz: '150 urad' },
  };
  // Near by, the pattern of a whole ring may be finer than the process.
  const references =
    !near && random.uniform() < 0.4
      ? [{ id: 'itself', kind: 'return', patches: 'auto' }, ...scenario.references]
      : scenario.references;
  return JSON.stringify({ ...scenario, references });
}

function nearBalls(random: Random, diameter: number, main: number): unknown[] {
  const count = 3 + Math.floor(random.uniform() * 3);
  const ring = (diameter + main) / 4 + 10 + 20 * random.uniform();
  const turn = random.uniform() * Math.PI;
  return Array.from({ length: count }, (_, k) => {
    const angle = turn + (2 * Math.PI * (k + 0.3 * random.uniform())) / count;
    const z = 120 + 60 * random.uniform();
    const at = [ring * Math.cos(angle), ring * Math.sin(angle), z].map((v) => Number(v.toFixed(3)));
    return {
      id: `ball-${k + 1}`,
      kind: 'ball',
      diameter: random.uniform() < 0.5 ? '0.5 in' : 22.225,
      at,
      patches: 'auto',
    };
  });
}

function farCubes(random: Random, between: (a: number, b: number) => number): unknown[] {
  const count = 3 + Math.floor(random.uniform() * 4);
  const turn = random.uniform() * Math.PI;
  return Array.from({ length: count }, (_, k) => {
    const angle = turn + (2 * Math.PI * (k + 0.3 * random.uniform())) / count;
    const ring = between(150, 260);
    const at = [ring * Math.cos(angle), ring * Math.sin(angle), between(1120, 1280)].map((v) =>
      Number(v.toFixed(3)),
    );
    return {
      id: `smr-${k + 1}`,
      kind: 'smr',
      diameter: '1.5 in',
      at,
      patches: 'auto',
      ...(k > 3 ? { use: 'auto' } : {}),
    };
  });
}
