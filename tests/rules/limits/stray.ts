/**
 * Rule stray-order at its limits. A false wave of intensity ρ shifts the phase that is read by up to asin(√ρ)/2π fringes; half of what
 * a reading resolves is let pass, said as the visibility 2√ρ/(1 + ρ), and so is what covers less than a twentieth of the patch.
 * mm. Efficiencies of a binary pattern: chrome η₀ = D², η_m = (sin πmD/πm)² (Goodman, Introduction to Fourier Optics, 4.4).
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Said, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.stray, severity: 'error' } as const;
const visibility = (rho: number): number => (2 * Math.sqrt(rho)) / (1 + rho);
/** The visibility at which a false wave shifts the phase by half of what is read: the amplitude is sin(2π · r/2). */
const allowed = (readable: number): number => visibility(Math.sin(Math.PI * readable) ** 2);

const BRIGHT = table('how bright it is', LAW, () => {
  /**
   * Collimated light, a round patch aimed at an SMR 50 mm aside: its order −1 goes as far to the other side, where a second cube
   * sends it home through order −1. That wave spreads from half-way up where the wanted one gathers at the cube: three times as wide
   * either way it is a ninth as bright, at a visibility of 0.6, and shifts the phase by asin(1/3)/2π.
   */
  const mirrored = (readable: number, other = 0): Words => ({
    interferometer: { collimated: true, beamDiameter: 150, pixelsAcrossBeam: 1000, readable },
    process: { kind: 'chrome', dutyCycle: 0.5 },
    references: [
      { id: 'one', kind: 'smr', diameter: 38.1, at: [100, 0, 1000] },
      { id: 'two', kind: 'smr', diameter: 38.1, at: [other, 0, 1000] },
    ],
    patches: [
      {
        id: 'a',
        reference: 'one',
        focus: 'point',
        centre: [50, 0],
        outline: { circle: { diameter: 12 } },
      },
      {
        id: 'b',
        reference: 'two',
        focus: 'line',
        centre: [-40, 10],
        lineAngle: 0,
        outline: { rectangle: { width: 10, height: 10 } },
      },
    ],
  });
  const atLimit = Math.asin(1 / 3) / Math.PI;
  const said = (readable: number): Said[] => [
    { where: 'a', value: visibility(1 / 9), within: 0.005, limit: allowed(readable) },
  ];
  return [
    ['a reading just too coarse to notice', mirrored(atLimit * 1.01), []],
    ['a reading just fine enough', mirrored(atLimit * 0.99), said(atLimit * 0.99)],
    ['a reading twice as fine', mirrored(atLimit / 2), said(atLimit / 2)],
    ['a second cube where no order goes', mirrored(atLimit / 2, 300), []],
  ];
});

const WIDE = table('how much of the patch it covers', LAW, () => {
  /**
   * Undiffracted light of a strip, x from 32 to 35, meets a cube whose apex stands over x = 40 and comes home over 45 to 48, where a
   * patch begins that many mm short of 48: that share of its 10 mm is covered. What of the patch's own comes home there covers
   * the strip as far, of 3 mm. Each is (0.25/0.1013)² times as bright as what is wanted.
   */
  const strips = (covered: number, process: Words = { kind: 'chrome', dutyCycle: 0.5 }): Words => ({
    interferometer: { collimated: true, beamDiameter: 150, pixelsAcrossBeam: 1000 },
    process,
    references: [
      { id: 'far', kind: 'smr', diameter: 38.1, at: [40, 0, 1500] },
      { id: 'high', kind: 'ball', diameter: 12.7, at: [40, 120, 160] },
    ],
    patches: [strip('strip', 33.5, 3), strip('wide', 48 - covered + 5, 10)],
  });
  const strip = (id: string, middle: number, width: number): Words => ({
    id,
    reference: 'high',
    focus: 'point',
    centre: [middle, 0],
    outline: { rectangle: { width, height: 4 } },
  });
  const said = (where: string): Said => ({ where, value: 1, limit: allowed(0.1) });
  return [
    ['5.6 %', strips(0.56), [said('wide'), said('strip')]],
    ['4.4 %', strips(0.44), [said('strip')]],
    ['20 %', strips(2), [said('wide'), said('strip')]],
    ['7 % of the strip alone', strips(0.21), [said('strip')]],
    ['3 % of the strip', strips(0.09), []],
    ['an etched pattern sends no light straight on', strips(2, { kind: 'etched', dutyCycle: 0.5 }), []],
    [
      // η₀ = 1 − 4D(1 − D) = 0.01 at D = 0.45, η₁ = 4 sin²(0.45π)/π² = 0.3954: a false wave of 6.4e-4, its visibility 0.05.
      'an etched one off a half does, too little to matter',
      strips(2, { kind: 'etched', dutyCycle: 0.45 }),
      [],
    ],
  ];
});

export const STRAY: readonly Table[] = [BRIGHT, WIDE];
