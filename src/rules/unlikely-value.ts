/**
 * Rule unlikely-value: a value of the scenario that looks as if it were typed in another unit. Few words, each with limits far outside
 * of what the trade uses (common practice, no source), and angles that are round in radians where degrees are read.
 */
import type { Path } from '../finding/finding.ts';
import { trimmed } from '../quantity/format.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { mm, rule } from './rule.ts';

export const unlikelyValue = rule(
  {
    code: 'unlikely-value',
    severity: 'warning',
    scope: 'design',
    meaning: 'A value is far from what is usual and may be in the wrong unit.',
    limit: 'e.g. a substrate from 0.1 to 300 mm thick; angles that are round in degrees',
    remedy: 'State the unit, e.g. `6.35 mm`, `10 um`, `1.5708 rad`; keep the value if it is meant.',
    planning: { by: 'moving' },
  },
  ({ scenario }) => [
    ...sizesOf(scenario).flatMap(judgeSize),
    ...wishesOf(scenario).flatMap(judgeWish),
    ...anglesOf(scenario).flatMap(judgeAngle),
  ],
);

interface Value {
  readonly where: string;
  readonly what: string;
  readonly value: number;
  readonly path: Path;
}

/** A length, mm, and what it usually lies between. */
interface Size extends Value {
  readonly least: number;
  readonly most: number;
}

function sizesOf({ substrate, process, references }: Scenario): readonly Size[] {
  const { thickness } = substrate;
  const blank: Size = {
    where: 'substrate.thickness',
    what: 'the thickness of the substrate',
    value: thickness,
    least: 0.1, // thinner than cover glass
    most: 300,
    path: ['substrate', 'thickness'],
  };
  const feature: Size = {
    where: 'process.minFeature',
    what: 'the smallest feature of the process',
    value: process.minFeature,
    least: 1e-5, // 10 nm
    most: 0.1,
    path: ['process', 'minFeature'],
  };
  const balls = references.flatMap(({ id, diameter }, k): Size[] =>
    diameter === undefined
      ? []
      : [
          {
            where: id,
            what: `the diameter of ${id}`,
            value: diameter,
            least: 1,
            most: 500,
            path: ['references', k, 'id'],
          },
        ],
  );
  return [...(thickness > 0 ? [blank] : []), feature, ...balls];
}

function judgeSize(size: Size): readonly Found[] {
  const { least, most } = size;
  if (size.value >= least && size.value <= most) return [];
  const isSmall = size.value < least;
  return [
    {
      where: size.where,
      message: `${size.what} is ${significant(size.value)} mm, ${isSmall ? 'under' : 'over'} the usual ${isSmall ? 'least' : 'most'} of ${mm(isSmall ? least : most)}`,
      hint: `a bare number is in mm${meant(size)}; state the unit`,
      value: size.value,
      limit: isSmall ? least : most,
      unit: 'mm',
      path: size.path,
    },
  ];
}

const MM_PER: Readonly<Record<string, number>> = { m: 1000, in: 25.4, um: 1e-3 };

/** `; 0.00635 m would be 6.35 mm`. Of units that would make it usual, the one that brings it nearest to the middle of the range. */
function meant({ value, least, most }: Size): string {
  const middle = Math.sqrt(least * most);
  const [best] = Object.entries(MM_PER)
    .map(([unit, factor]) => ({ unit, size: value * factor }))
    .filter(({ size }) => size >= least && size <= most)
    .sort((a, b) => Math.abs(Math.log(a.size / middle)) - Math.abs(Math.log(b.size / middle)));
  return best === undefined
    ? ''
    : `; ${significant(value)} ${best.unit} would be ${significant(best.size)} mm`;
}

const significant = (value: number): string => String(Number(value.toPrecision(6)));

/** Wishes that no alignment by fringes is needed for: a millimetre, a degree. */
const COARSE = { mm: 1, deg: 1 } as const;

const wishesOf = ({ wanted }: Scenario): readonly (Value & { readonly unit: 'mm' | 'deg' })[] =>
  Object.entries(wanted).map(([degree, value]) => {
    const turns = degree.startsWith('r');
    return {
      where: `wanted.${degree}`,
      what: `the wished uncertainty of ${degree}`,
      value: turns ? (value * 180) / Math.PI : value,
      unit: turns ? 'deg' : 'mm',
      path: ['wanted', degree],
    };
  });

function judgeWish({
  where,
  what,
  value,
  unit,
  path,
}: ReturnType<typeof wishesOf>[number]): readonly Found[] {
  if (value < COARSE[unit]) return [];
  const example = unit === 'mm' ? `${significant(value)} um` : `${significant(value)} urad`;
  return [
    {
      where,
      message: `${what} is ${significant(value)} ${unit}, met by any bench`,
      hint: `a bare number is in ${unit}; write \`${example}\` if that is meant`,
      value,
      limit: COARSE[unit],
      unit,
      path,
    },
  ];
}

/** Radians. */
function anglesOf({ patches, part, references }: Scenario): readonly Value[] {
  return [
    ...patches.flatMap(({ id, lineAngle, bias }, k): Value[] => [
      ...angle(id, `the line angle of ${id}`, lineAngle, ['patches', k, 'lineAngle']),
      ...angle(id, `the bias direction of ${id}`, bias?.direction, ['patches', k, 'bias', 'direction']),
    ]),
    ...part.rotation.flatMap((value, k) =>
      angle('part.rotation', `the part’s rotation about ${'xyz'[k]}`, value, ['part', 'rotation']),
    ),
    ...references.flatMap(({ id, touches }, k) =>
      touches.flatMap(({ azimuth, datum }) =>
        angle(id, `the azimuth of ${id} at ${datum}`, azimuth, ['references', k, 'id']),
      ),
    ),
  ];
}

const angle = (where: string, what: string, value: number | undefined, path: Path): Value[] =>
  value === undefined ? [] : [{ where, what, value, path }];

/** Of a turn, in radians, as people type them: to a thousandth. */
const ROUND_IN_RADIANS = [30, 45, 60, 90, 120, 135, 150, 180, 210, 225, 240, 270, 300, 315, 330, 360].map(
  (degrees) => ({ degrees, radians: (degrees * Math.PI) / 180 }),
);
const TYPED = 6e-4;
/** Degrees that are multiples of this are meant. */
const ROUND_IN_DEGREES = 0.5;

function judgeAngle({ where, what, value, path }: Value): readonly Found[] {
  const degrees = (value * 180) / Math.PI;
  const over = Math.abs(degrees) > 360 * (1 + 1e-9);
  const isRound = Math.abs(degrees / ROUND_IN_DEGREES - Math.round(degrees / ROUND_IN_DEGREES)) < 1e-9;
  const same = ROUND_IN_RADIANS.find(
    ({ radians }) => Math.abs(Math.abs(degrees) - radians) <= TYPED * radians,
  );
  if (!over && (isRound || same === undefined)) return [];
  const shown = trimmed(degrees, 4);
  return [
    over
      ? {
          where,
          message: `${what} is ${shown} deg, more than a full turn`,
          hint: 'check its unit; a bare number is in degrees',
          value: degrees,
          limit: 360,
          unit: 'deg',
          path,
        }
      : {
          where,
          message: `${what} is ${shown} deg, which is ${same!.degrees} deg in radians`,
          hint: `a bare number is in degrees; write \`${Math.sign(degrees) * same!.degrees} deg\` if that is meant`,
          value: degrees,
          unit: 'deg',
          path,
        },
  ];
}
