/**
 * The closed form of a patch's phase as data: all that a reader needs to compute Φ without the polynomial.
 * Lengths mm; eikonals as in optics/spherical-wave.ts, cylindrical-wave.ts and plane-wave.ts.
 */
import type { Design, DesignedPattern } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import type { DatumSurface, SagSurface } from '../../optics/datum-surface.ts';
import { trimmed } from '../../quantity/format.ts';

export type ClosedForm = ReturnType<typeof closedForm>;

export function closedForm(design: Design, patch: DesignedPattern) {
  const [target, line] = 'reference' in patch ? [patch.target, patch.lineDirection ?? null] : [null, null];
  return {
    formula: `Phi(P) = [E_out(P) - E_in(P)] / (m lambda) - the same at ${zeroWords(patch)} + B(P)`,
    incident: incidentForm(design),
    leaving: leavingForm(design, patch),
    bias: biasForm(patch),
    target_mm: target,
    lineDirection: line,
    centre_mm: patch.centre,
    order: patch.order,
  };
}

const zeroWords = ({ centre, phase: { zeroAt } }: Pattern): string =>
  zeroAt === centre ? 'the patch centre' : `P = ${vector(zeroAt)} mm`;

function incidentForm(design: Design): string {
  const { beam } = design.scenario.interferometer;
  if (beam.kind === 'collimated') return `E_in = k.P, k = ${vector(beam.direction)}`;
  const sign = beam.kind === 'diverging' ? '+' : '-';
  const focus = `F = ${vector(beam.focus)} mm`;
  if (design.glass.side === 'after' || design.glass.thickness === 0) return `E_in = ${sign}|P - F|, ${focus}`;
  return `E_in = stationary over Q in the entry face z = ${number(-design.glass.thickness)} mm of ${sign}|Q - F| + n|P - Q|, ${focus}`;
}

function leavingForm(design: Design, patch: DesignedPattern): string {
  if (!('reference' in patch)) return byTable(`surface ${patch.test.surface}`);
  const target = `A = ${vector(patch.target)} mm`;
  const through = design.glass.side === 'after' && design.glass.thickness > 0;
  const line = patch.lineDirection === undefined ? '' : `, l = ${vector(patch.lineDirection)}`;
  const run = (from: string): string =>
    patch.lineDirection === undefined ? `|A - ${from}|` : `|(A - ${from}) - ((A - ${from}).l) l|`;
  if (isReadBy(patch.reference, 'alignment')) return 'E_out = -E_in (back on itself)';
  if (patch.normalIncidence !== undefined) {
    const { surface } = patch.normalIncidence;
    if (surface.shape === 'sag') return byTable(`datum ${patch.reference.datum}`);
    return normalForm(design, surface);
  }
  if (!through) return `E_out = -${run('P')}, ${target}${line}`;
  return `E_out = -[stationary over Q in the exit face z = ${number(design.glass.thickness)} mm of n|P - Q| + ${run('Q')}], ${target}${line}`;
}

/** Of a surface whose normals have no closed form. */
const byTable = (surface: string): string => `E_out by table: the wave that meets ${surface} square on`;

type ClosedSurface = Exclude<DatumSurface, SagSurface>;

/** Waves that meet a surface at normal incidence; in glass after the pattern the air's eikonal is that in the exit face. */
function normalForm(design: Design, surface: ClosedSurface): string {
  const { thickness, side } = design.glass;
  if (side === 'before' || thickness === 0) {
    const { path, where } = airForm(surface, 'P', 0);
    return `E_out = ${path}, ${where}`;
  }
  const { path, where } = airForm(surface, 'Q', thickness);
  return `E_out = stationary over Q in the exit face z = ${number(thickness)} mm of ${path} - n|P - Q|, ${where}`;
}

/** The eikonal in air at a place, and what its letters stand for, which comes after all of the formula. */
interface AirForm {
  readonly path: string;
  readonly where: string;
}

function airForm(surface: ClosedSurface, at: 'P' | 'Q', exit: number): AirForm {
  const from = `O = ${vector(surface.point)} mm`;
  const axial = (axis: Vec3): string =>
    `rho and zeta of ${at} across and along the axis ${vector(axis)} from ${from}`;
  switch (surface.shape) {
    case 'plane':
      return { path: `-N.${at}`, where: `N = ${vector(surface.normal)}` };
    case 'sphere':
      return { path: `${surface.point[2] > exit ? '-' : '+'}|${at} - O|`, where: from };
    case 'cone': {
      const half = `a = ${number((surface.halfAngle * 180) / Math.PI)} deg`;
      const sign = surface.side === 'outside' ? '' : '-';
      return { path: `${sign}(-rho cos a + zeta sin a)`, where: `${axial(surface.axis)}, ${half}` };
    }
    case 'torus':
      return {
        path: `${surface.point[2] >= exit ? '-' : '+'}sqrt((rho - R)^2 + zeta^2)`,
        where: `${axial(surface.axis)}, R = ${number(surface.radius)} mm`,
      };
  }
}

function biasForm({ bias }: Pattern): string {
  if (bias === undefined) return 'B = 0';
  const run = bias.shape === 'roof' ? '|w|' : 'w';
  const [x, y] = bias.direction;
  return (
    `B = (${number(bias.amplitude)} waves / ${number(bias.reach)} mm) ${run}, ` +
    `w = ${number(x)} (x - ${number(bias.centre[0])}) + ${number(y)} (y - ${number(bias.centre[1])}) mm`
  );
}

const number = (value: number): string => trimmed(value, 12);
const vector = (values: readonly number[]): string => `(${values.map(number).join(', ')})`;
