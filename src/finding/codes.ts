/**
 * What the program can find in an input's text or in a file as such: one row a code, with what it means and what to do about it. Codes
 * are stable. Those of the layout rules stand with their rules; rules/code-table.ts has them all.
 */

interface CodeRow {
  readonly family: 'input' | 'file';
  readonly meaning: string;
  readonly remedy: string;
}

const input = (meaning: string, remedy: string): CodeRow => ({ family: 'input', meaning, remedy });
const file = (meaning: string, remedy: string): CodeRow => ({ family: 'file', meaning, remedy });

export const CODES = {
  'yaml-syntax': input(
    'The text is not YAML, or uses a part of it that has no meaning here.',
    'Correct the line shown; indent with spaces, quote texts that hold `: ` or start with a special sign.',
  ),
  'not-text': input('The file holds control characters: it is not a text.', 'Give the scenario’s YAML file.'),
  'runaway-aliases': input(
    'Aliases multiply the file’s content beyond reason.',
    'Write the content out, or use fewer aliases.',
  ),
  'duplicate-key': input('The same key stands twice in one mapping.', 'Remove or rename one of the two.'),
  'unknown-key': input(
    'A key that a scenario does not have at this place.',
    'Correct its spelling, or remove it.',
  ),
  'missing-key': input('A required key is not there.', 'Add it.'),
  'conflicting-keys': input(
    'Two keys exclude each other, or a key has no meaning beside another one’s value.',
    'Keep one of them.',
  ),
  'unused-key': input('A key that has no effect beside another one’s value.', 'Remove it.'),
  'wrong-type': input(
    'A value of another kind than expected: a text for a list, a list for a number.',
    'Give the kind of value that the message names.',
  ),
  'bad-value': input(
    'A value that none of the allowed ones matches, or one without sense: a vector without a direction.',
    'Give one of the values that the message names.',
  ),
  'out-of-range': input(
    'A number beyond what a scenario may hold at this place, or not finite.',
    'Check the number and its unit.',
  ),
  'bad-expression': input(
    'A text that is neither a number with a unit nor an expression that the program computes.',
    'Use + - * / ^, parentheses, numbers with units, parameters, pi and the listed functions.',
  ),
  'unknown-unit': input(
    'A unit that the program does not know, or of a kind that a scenario does not use.',
    'Use a unit of length, angle, temperature, pressure or power.',
  ),
  'unit-mismatch': input(
    'A quantity of another kind than expected, or two kinds added to each other.',
    'Give both the same kind; give bare numbers a unit inside expressions.',
  ),
  'unknown-name': input(
    'An expression uses a name that is neither a parameter nor a function; or a command names no patch.',
    'Correct its spelling, or add it to `parameters`.',
  ),
  'parameter-cycle': input(
    'Parameters refer to each other in a loop.',
    'Give one of them a value of its own.',
  ),
  'open-place': input(
    'A place of the scenario is left open (`auto`), which only `plan` takes.',
    'Run `datumlight plan`, which fills it in, or give it.',
  ),
  'unknown-reference': input(
    'A patch or a measurement names a reference that the scenario does not have.',
    'Correct the name, or add the reference.',
  ),
  'unknown-datum': input(
    'A touch names a datum that the part does not have.',
    'Correct the name, or add the datum.',
  ),
  'duplicate-id': input(
    'Two entries of one list have the same id, or ids that differ in case alone.',
    'Rename one of the two.',
  ),
  'bad-id': input(
    'An id or a parameter’s name that cannot be used as a file’s name or in an expression.',
    'Start with a letter or digit; go on with letters, digits, `.`, `_`, `-`; at most 64 of them.',
  ),
  'bad-outline': input(
    'An outline that encloses nothing or crosses itself.',
    'List the corners in the order in which they are met along the edge.',
  ),
  'touch-underdetermined': input(
    'The touches of a reference leave its place open.',
    'Add a touch, or fix an azimuth, a height or a coordinate.',
  ),
  'touch-overdetermined': input(
    'The touches of a reference ask for more than one place can satisfy.',
    'Remove a touch or a fixed coordinate.',
  ),
  'touch-impossible': input(
    'No place satisfies all touches of a reference.',
    'Check the diameters and the sides touched.',
  ),
  'touch-ambiguous': input(
    'Several places satisfy all touches of a reference.',
    'Fix an azimuth, a height or a coordinate.',
  ),
  'target-behind': input(
    'A reference does not stand beyond the substrate, where the light goes.',
    'Give it a larger z, or check `part.origin` and `part.rotation`.',
  ),
  'focus-in-glass': input(
    'The beam’s focus lies in the substrate or on it.',
    'Give z < 0 for a diverging beam and z > 0 for a converging one, clear of the glass.',
  ),
  'glass-range': input(
    'The glass’s formula does not hold at the wavelength.',
    'Give the index itself as `index`.',
  ),
  'contradicting-readings': input(
    'Readings of the same thing differ by more than their uncertainties explain.',
    'Read the one named again: its sign and its count of whole fringes first.',
  ),
  'beyond-capture-range': input(
    'A reading of more fringes than the camera can show, or than the traced return reaches.',
    'Set the reference by eye first, then read again after the move.',
  ),
  'degenerate-points': input(
    'Tracked points that leave a rigid motion open: fewer than three, or all on one line.',
    'Measure a third reference well off the line through the others.',
  ),
  'mirrored-points': input(
    'Tracked points that fit as a mirror image only: two axes swapped, one counted the other way, or angles from elsewhere.',
    'Check the tracker’s export: a right-handed frame, azimuth toward +y, elevation from the horizon.',
  ),
  'mixed-units': input(
    'Tracked points that fit at another scale only: inches or metres taken for millimetres.',
    'Convert the coordinates to the unit that the column names.',
  ),
  'outlying-point': input(
    'A tracked point farther from its place than its uncertainty explains.',
    'Measure it again: its seat, its name, its target’s diameter first.',
  ),
  'set-by-eye': input(
    'Tracked points whose places no fringe and no touch holds in some direction.',
    'Nothing, if they were set with care; a patch or a touch more holds them.',
  ),
  'bad-table': input(
    'A table of numbers has a wrong head, a wrong count of fields, or a field that is no number.',
    'Correct the line shown.',
  ),
  'table-misread': input(
    'A coefficient table that came back means something else: a sign, an axis, a unit or a radius was taken for another.',
    'Convert it back, or have its head and the names of its columns say what it means.',
  ),
  'table-rounded': input(
    'The digits left out of a coefficient table change its phase by more than is allowed.',
    'Write more digits.',
  ),
  'table-incomplete': input(
    'A patch, its polynomial or its roof is missing from a coefficient table that came back.',
    'Give the missing rows.',
  ),
  'table-differs': input(
    'A coefficient table that came back gives another phase, and no known misreading explains it.',
    'Compare its rows with those of the package.',
  ),
  'too-many': input(
    'More entries, or more faults, than the program goes through.',
    'Correct the faults shown first; split the scenario.',
  ),
  'unreadable-file': file(
    'A file cannot be opened or is not UTF-8 text.',
    'Check the name, the rights and the encoding.',
  ),
  'file-too-large': file('A file is larger than the program reads.', 'Split the scenario.'),
  'not-writable': file(
    'A file or directory cannot be written.',
    'Check the name, the rights and the space left.',
  ),
  'output-exists': file(
    'The place for the output is taken by something that the program did not make.',
    'Choose another place, or remove what is there.',
  ),
} as const satisfies Record<string, CodeRow>;

export type Code = keyof typeof CODES;
