/** Beam and glass in words, so that a flipped sign of the focus or a wrong face is noticed on reading. mm. */
import type { Design } from '../design/design.ts';
import { trimmed } from '../quantity/format.ts';

/** Such as `diverging from 500 mm in front of the pattern, f/3.2`. */
export function beamWords({ scenario }: Pick<Design, 'scenario'>): string {
  const { beam, fNumber, beamDiameter } = scenario.interferometer;
  if (beam.kind === 'collimated') {
    return beamDiameter === undefined ? 'collimated' : `collimated, ${size(beamDiameter)} mm in diameter`;
  }
  const [x, y, z] = beam.focus;
  const aside = x === 0 && y === 0 ? '' : `, ${size(Math.sqrt(x * x + y * y))} mm off its axis`;
  const where =
    z < 0
      ? `diverging from ${size(-z)} mm in front of the pattern${aside}`
      : `converging to ${size(z)} mm behind the pattern${aside}`;
  return fNumber === undefined ? where : `${where}, f/${size(fNumber)}`;
}

/** Such as `fused silica 6.35 mm, crossed before the pattern`. */
export function glassWords({ glass, scenario }: Pick<Design, 'glass' | 'scenario'>): string {
  if (glass.thickness === 0) return 'none in the light path';
  const when = glass.side === 'before' ? 'before' : 'after';
  // `index 1.457` would run into the thickness.
  const name = 'index' in scenario.substrate.material ? `${glass.name},` : glass.name;
  return `${name} ${size(glass.thickness)} mm, crossed ${when} the pattern`;
}

const size = (value: number): string => trimmed(value, 3);
