/** Texts of readings files as an operator could have written them: random counts in every form that `steer` takes. Fringes, µm, hours. */
import { randomFrom } from '../../src/algebra/random.ts';
import type { Design } from '../../src/design/design.ts';
import { kindOf } from '../../src/kinds/kinds.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { ORIENTATIONS } from '../../src/scenario/camera-orientation.ts';

/** `count` texts; the same ones in every run. */
export function randomReadings(design: Design, seed: string, count: number): readonly string[] {
  const random = randomFrom(seed);
  const fringes = (): number => Number((3 * random.normal()).toFixed(2));
  const often = (share: number): boolean => random.uniform() < share;
  return Array.from({ length: count }, () => {
    const { view, turned, mirrored } = ORIENTATIONS[Math.floor(8 * random.uniform())]!;
    const rows = design.patches.flatMap((patch) => {
      const { noCount } = kindOf(patch.reference).words;
      if (noCount !== undefined || often(0.2)) return [];
      const isRing = sensesOf(design, patch).length === 0;
      const isLine = patch.lineDirection !== undefined;
      const one = isLine ? `${fringes()}` : `[${fringes()}, ${often(0.2) ? '~' : fringes()}]`;
      const words = [
        `patch: ${patch.id}`,
        !isLine && !isRing && often(0.3)
          ? `fringes: ${Math.abs(fringes())}, toward: ${(12 - 11.5 * random.uniform()).toFixed(1)}`
          : `fringes: ${one}`,
        ...(isLine || often(0.5) ? [] : [`power: ${fringes()}`]),
        ...(often(0.3) ? [`uncertainty: ${(0.05 + 0.3 * random.uniform()).toFixed(2)}`] : []),
      ];
      const sign = !words[1]!.includes('toward') && often(0.08) ? ['sign: unknown'] : [];
      return [`  - {${[...words, ...sign].join(', ')}}`];
    });
    const lengths = design.scenario.measurements
      .filter(() => often(0.8))
      .map(({ id }) => `  - {measurement: ${id}, deviation_um: ${(5 * random.normal()).toFixed(1)}}`);
    const main =
      design.main !== undefined && often(0.5)
        ? [`  - {patch: main, fringes: [${fringes()}, ${fringes()}], power: ${fringes()}}`]
        : [];
    const all = [...rows, ...lengths, ...main];
    const first = design.patches.find(({ reference }) => kindOf(reference).words.noCount === undefined)!;
    const some = all.length > 0 ? all : [`  - {patch: ${first.id}, power: 1}`];
    return `camera: {view: ${view}, turned: ${turned}, mirrored: ${mirrored}}\nreadings:\n${some.join('\n')}\n`;
  });
}
