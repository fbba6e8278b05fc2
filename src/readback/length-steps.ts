/** Lengths of a coefficient table in another unit than it says: which, and what the program then reads, against the design. */

/** What each unit's number comes to where it is read as mm; `millimetres` are mm read as inches. */
const READ_AS_MM = {
  inches: 1 / 25.4,
  thousandths: 1000 / 25.4,
  centimetres: 0.1,
  metres: 1e-3,
  micrometres: 1e3,
  nanometres: 1e6,
  millimetres: 25.4,
} as const;
type LengthUnit = keyof typeof READ_AS_MM;

const UNIT_WORDS: Readonly<Record<LengthUnit, string>> = {
  inches: 'in inches, read as millimetres',
  thousandths: 'in thousandths of an inch, read as millimetres',
  centimetres: 'in centimetres, read as millimetres',
  metres: 'in metres, read as millimetres',
  micrometres: 'in micrometres, read as millimetres',
  nanometres: 'in nanometres, read as millimetres',
  millimetres: 'in millimetres, read as inches',
};
/** Which lengths. */
const SUBJECTS = {
  lengths: 'the lengths (centres and normalisation radii) are',
  radius: 'the normalisation radius alone is',
  centre: 'the centre alone is',
} as const;
type Subject = keyof typeof SUBJECTS;

export type LengthStep = `${Subject}-in-${LengthUnit}`;

export const LENGTH_UNITS = Object.entries(READ_AS_MM) as readonly [LengthUnit, number][];

export const lengthStep = (subject: Subject, unit: LengthUnit): LengthStep => `${subject}-in-${unit}`;

export const LENGTH_WORDS = Object.fromEntries(
  (Object.keys(SUBJECTS) as Subject[]).flatMap((subject) =>
    LENGTH_UNITS.map(([unit]) => [lengthStep(subject, unit), `${SUBJECTS[subject]} ${UNIT_WORDS[unit]}`]),
  ),
) as Readonly<Record<LengthStep, string>>;
