/** Faults of tracked points that still give a motion: outliers, and positions set only by eye. */

import type { Finding } from '../../finding/finding.ts';
import { dot, type Vec3 } from '../../geometry/vector.ts';
import { fixed } from '../../quantity/format.ts';
import { directionWords } from '../estimate/free-motion.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';
import { outliersOf, type Registration } from './registration.ts';
import type { RegistrationPoint } from './registration-points.ts';
import { swapFinding } from './swapped-points.ts';
import { diameterFinding } from './target-diameter.ts';
import type { Transfer } from './transfer.ts';

export function transferFindings(transfer: Transfer): readonly Finding[] {
  const { hologram, part, points, ofRepeats = [], swaps = [], diameter } = transfer;
  const causes = [
    ...(swaps.length === 0 ? [] : [swapFinding(swaps, points)]),
    ...(diameter === undefined ? [] : [diameterFinding(diameter, part!)]),
  ];
  const cause = causes.find(({ severity }) => severity === 'error');
  const sides = [
    ...(hologram === undefined ? [] : sideFindings(hologram, 'the points at the hologram’s foci')),
    ...(part === undefined ? [] : sideFindings(part, 'the points on the part')),
  ].map((finding) =>
    cause === undefined || finding.rule !== 'outlying-point'
      ? finding
      : { ...finding, follows: { rule: cause.rule, where: cause.where } },
  );
  return [...ofRepeats, ...causes, ...sides];
}

function sideFindings(registration: Registration, side: string): readonly Finding[] {
  const { points, residuals, tests, chiSquared, degreesOfFreedom, probability } = registration;
  const [worst, ...others] = outliersOf(registration);
  const blamed =
    worst === undefined
      ? []
      : [
          {
            severity: 'error',
            rule: 'outlying-point',
            where: points[worst]!.name,
            message:
              `${points[worst]!.name} is off by (${residuals[worst]!.map((e) => fixed(e, 4)).join(', ')}) mm, which by its uncertainty has probability ` +
              `${tests[worst]!.probability.toPrecision(1)}; χ² of ${side} is ${chiSquared.toPrecision(3)} for ` +
              `${degreesOfFreedom} degrees of freedom, probability ${probability.toPrecision(1)}` +
              (others.length === 0
                ? ''
                : `; also suspect, perhaps because of it: ${others.map((k) => points[k]!.name).join(', ')}`),
            hint: 'check its seat, its name and its target’s diameter; then measure it again or leave it out',
            ...placed(points[worst]!),
          } as const,
        ];
  const byEye = points.flatMap((point, k) =>
    point.byEye.map((direction) => ({ point, direction, off: dot(residuals[k]!, direction) })),
  );
  const far = byEye.filter(({ off }) => Math.abs(off) > EYE_SETTING.poor).map(farFinding);
  if (byEye.length === 0) return blamed;
  const listed = byEye.map(
    ({ point: { name }, direction, off }) =>
      `${name} ${fixed(off, 3)} mm off along ${directionWords(direction)}`,
  );
  return [
    ...blamed,
    ...far,
    {
      severity: 'note',
      rule: 'set-by-eye',
      where: points.map(({ name }) => name).join(', '),
      message: `some positions are set only by eye, and given low weight in that direction: ${listed.join('; ')}`,
    },
  ];
}

interface ByEye {
  readonly point: RegistrationPoint;
  readonly direction: Vec3;
  readonly off: number;
}

const farFinding = ({ point, direction, off }: ByEye): Finding => ({
  severity: 'warning',
  rule: 'outlying-point',
  where: point.name,
  message: `${point.name} is ${fixed(off, 3)} mm off along ${directionWords(direction)}, where setting by eye is good to ${EYE_SETTING.poor} mm`,
  hint: 'check its name, its seat and its target’s diameter',
  value: Math.abs(off),
  limit: EYE_SETTING.poor,
  unit: 'mm',
  ...placed(point),
});

const placed = ({ place }: RegistrationPoint): Pick<Finding, 'place'> =>
  place === undefined ? {} : { place };
