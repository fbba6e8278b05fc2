/**
 * A bias aslant to a cube's line, at the design place. The cube turns round what runs along the line, v* = −v, and keeps what runs
 * across it, so that B(P) + B(P*) of a tilt at the angle ψ to the line runs across it alone: of N fringes N sin²ψ lie along the
 * tilt's own direction. Of a roof |w| + |w*| is twice the larger of the two runs: N max(sin²ψ, cos²ψ). mm, fringes.
 */
import { expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { fringesAtNull } from '../../src/metrology/sensing/null-fringes.ts';
import { diverging, HENE, makePatch, type PatchRecipe } from '../design/support/make-patch.ts';

const LINE = 0.3;
const FRINGES = 2;
const AIR = { name: 'none', index: 1, thickness: 0, side: 'before' } as const;
const GLASS = { name: 'x', index: 1.457, thickness: 6.35, side: 'after' } as const;
const cube = (shape: 'tilt' | 'roof', angle: number, glass: PatchRecipe['glass']): PatchRecipe => ({
  at: [30, 250, 2800],
  centre: [0, 60],
  outline: { shape: 'rectangle', centre: [0, 60], width: 10, height: 10, rotation: 0 },
  lineAngle: LINE,
  bias: { shape, fringes: FRINGES, direction: LINE + (angle * Math.PI) / 180 },
  ...(glass ? { glass } : {}),
});
/** A roof of N fringes turns the rays by θ = λN/(2 v_max) and so lengthens the way by s θ², 0.018 waves for these. */
const CLOSE = 0.03;

const CASES = ([AIR, GLASS] as const).flatMap((glass) =>
  [-60, -30, 20, 45, 60, 85].map((angle) => [angle, glass.name === 'none' ? 'air' : 'glass', glass] as const),
);

test.each(CASES)('at %d° to the line, in %s: what lies along the bias is counted', (angle, _, glass) => {
  const across = Math.sin((angle * Math.PI) / 180) ** 2;
  const seen = (shape: 'tilt' | 'roof'): number | undefined => {
    const patch = makePatch(cube(shape, angle, glass.thickness > 0 ? GLASS : undefined));
    const design = {
      light: { wavelength: HENE, airIndex: undefined },
      beam: { eikonal: diverging(500) },
      glass,
    };
    return fringesAtNull(design as unknown as Design, patch);
  };
  expect(Math.abs(seen('tilt')! - FRINGES * across)).toBeLessThan(CLOSE);
  expect(Math.abs(seen('roof')! - FRINGES * Math.max(across, 1 - across))).toBeLessThan(CLOSE);
});
