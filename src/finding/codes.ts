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
    'The file is not valid YAML, or uses a YAML feature that is not supported.',
    'Correct the line shown; indent with spaces; quote strings that contain `: ` or start with a special character.',
  ),
  'not-text': input(
    'The file contains control characters: it is not a text file.',
    'Give the scenario’s YAML file.',
  ),
  'runaway-aliases': input(
    'YAML aliases expand the file beyond the limit.',
    'Write the content out, or use fewer aliases.',
  ),
  'unprintable-letters': input(
    'A text for the drawing has letters that the font of `layout.pdf` lacks, or whose script it cannot set.',
    'Use other letters, or print `layout.svg`.',
  ),
  'duplicate-key': input('A key appears twice in one mapping.', 'Remove or rename one of the two.'),
  'unknown-key': input('A key that is not allowed here.', 'Correct the spelling, or remove it.'),
  'missing-key': input('A required key is missing.', 'Add it.'),
  'conflicting-keys': input(
    'Two keys exclude each other, or a key cannot be combined with another key’s value.',
    'Keep one of them.',
  ),
  'unused-key': input('A key that has no effect because of another key’s value.', 'Remove it.'),
  'wrong-type': input(
    'A value of the wrong type: a string instead of a list, a list instead of a number.',
    'Give a value of the type that the message names.',
  ),
  'bad-value': input(
    'A value that is not one of those allowed, or is meaningless, e.g. a zero vector.',
    'Give one of the values that the message names.',
  ),
  'out-of-range': input(
    'A number outside the allowed range, or not finite.',
    'Check the number and its unit.',
  ),
  'bad-expression': input(
    'A string that is neither a number with a unit nor a supported expression.',
    'Use + - * / ^, parentheses, numbers with units, parameters, pi and the listed functions.',
  ),
  'unknown-unit': input(
    'A unit that is not supported.',
    'Use a unit of length, angle, temperature, pressure or power.',
  ),
  'unit-mismatch': input(
    'A quantity of the wrong kind, or a sum of different kinds.',
    'Use the same kind for both; inside expressions, give numbers a unit.',
  ),
  'unknown-name': input(
    'An expression uses a name that is neither a parameter nor a function, or a command names an unknown patch.',
    'Correct the spelling, or add it to `parameters`.',
  ),
  'parameter-cycle': input(
    'Parameters refer to each other in a loop.',
    'Give one of them a value that does not depend on the others.',
  ),
  'open-place': input(
    'A value is left open (`auto`), which only `plan` accepts.',
    'Run `datumlight plan` to fill it in, or give a value.',
  ),
  'unknown-reference': input(
    'A patch or a measurement names a reference that does not exist.',
    'Correct the name, or add the reference.',
  ),
  'unknown-datum': input(
    'A touch or a reference names a datum that does not exist.',
    'Correct the name, or add the datum.',
  ),
  'duplicate-id': input(
    'Two entries of a list have the same id, or ids that differ only in case.',
    'Rename one of the two.',
  ),
  'bad-id': input(
    'An id or a scenario’s name that cannot be used as a file name, or a parameter name that cannot be used in an expression.',
    'Use at most 64 letters, digits, `.`, `_`, `-`; start with a letter or digit. A scenario’s file may have spaces and letters of any script.',
  ),
  'bad-outline': input(
    'An outline that encloses nothing or crosses itself.',
    'List the corners in order along the edge.',
  ),
  'touch-underdetermined': input(
    'The touches of a reference do not determine its position.',
    'Add a touch, or fix an azimuth, a height or a coordinate.',
  ),
  'touch-overdetermined': input(
    'The touches of a reference determine its position more than once.',
    'Remove a touch or a fixed coordinate.',
  ),
  'touch-impossible': input(
    'No position satisfies all touches of a reference.',
    'Check the diameters and the sides touched.',
  ),
  'touch-ambiguous': input(
    'Several positions satisfy all touches of a reference.',
    'Fix an azimuth, a height or a coordinate.',
  ),
  'target-behind': input(
    'A reference is not beyond the substrate, on the side to which the light travels.',
    'Give it a larger z, or check `part.origin` and `part.rotation`.',
  ),
  'focus-in-glass': input(
    'The beam’s focus, or a reference that light is to reach, is inside the substrate or on its surface.',
    'Give the focus z < 0 for a diverging beam and z > 0 for a converging one, clear of the glass; check `thickness` and its unit.',
  ),
  caustic: input(
    'Normals of the surface under test cross at the pattern: no phase gives a null there.',
    'Move the part along the light, so that the surface’s centres of curvature lie clear of the pattern.',
  ),
  'one-cause': input(
    'One value, read otherwise, would explain most of the errors.',
    'Check this value first: its sign and its unit.',
  ),
  'glass-range': input(
    'The dispersion formula of the glass is not valid at the wavelength.',
    'Give the refractive index as `index`.',
  ),
  'contradicting-readings': input(
    'Readings disagree by more than their uncertainties explain.',
    'Repeat the reading that is named; check its sign and its number of whole fringes first.',
  ),
  'blind-count': input(
    'No motion shows as this count of a ring, such as the power of a plane.',
    'Leave the count out; where it is not zero, look for its cause in the surface or the glass.',
  ),
  'scenario-changed': input(
    'The scenario, or a file that it names, is not the one that the session was begun with.',
    'Go on with the scenario as it was, or begin a new session.',
  ),
  'moves-reversed': input(
    'The readings after a move are those expected if all signs were wrong.',
    'Undo the move; find the sign of one patch by a trial move.',
  ),
  'camera-turned': input(
    'The readings after a move are those expected if the camera’s picture were turned or mirrored otherwise than stated.',
    'Undo the move; check how the camera is turned, and state it in the bench file.',
  ),
  'moves-differ': input(
    'The readings after a move are not those predicted, and no wrong sign or orientation explains them.',
    'Check which screws were turned and by how much; read again.',
  ),
  'moves-undecided': input(
    'The readings after a move are as predicted, but a wrong sign or orientation would have led to them too.',
    'Make a larger move, along another direction too.',
  ),
  'beyond-capture-range': input(
    'A reading has more fringes than the camera can show, or than ray tracing can reproduce.',
    'Align the reference coarsely by eye, then read again.',
  ),
  'degenerate-points': input(
    'Tracked points do not determine a rigid motion: fewer than three, or all on one line.',
    'Measure a third reference well off the line through the others.',
  ),
  'mirrored-points': input(
    'Tracked points fit only as a mirror image: two axes swapped, one axis reversed, or angles with another origin.',
    'Check the tracker’s export: a right-handed frame, azimuth from +x toward +y, elevation from the horizon.',
  ),
  'mixed-units': input(
    'Tracked points fit only at another scale: inches or metres given as millimetres.',
    'Convert the coordinates to the unit that the column names.',
  ),
  'outlying-point': input(
    'A tracked point is farther from its expected position than its uncertainty explains.',
    'Measure it again; check its seat, its name and its target’s diameter first.',
  ),
  'swapped-points': input(
    'Tracked points fit if the names of two of them are exchanged.',
    'Look at the bench which is which; if the names are wrong, exchange them in the table.',
  ),
  'wrong-target': input(
    'The points on the part stand as if all their retroreflectors had another diameter, or as if the table had points of the surface instead of centres.',
    'Measure the diameter of a retroreflector; check the target that is set in the tracker’s program.',
  ),
  'scattered-repeats': input(
    'Repeated measurements of one point differ by more than their stated uncertainties explain.',
    'Let the tracker settle, check the seat, and measure the point again.',
  ),
  'unread-patch': input(
    'A patch could not be read from a frame, or not surely enough for `steer`.',
    'Do what the message says, take another frame, or count by eye.',
  ),
  'hand-reading': input(
    'A reading by hand takes the place of the one from a frame.',
    'None needed; remove the reading by hand to use the frame’s.',
  ),
  'settled-sign': input(
    'A sign that was not seen, or which of two readings it is, was told by what the round before predicts.',
    'None needed; the reading with its sign given is used as it stands.',
  ),
  'open-orientation': input(
    'How the camera shows the hologram is open: the frame does not tell which way its picture is turned or where the hologram is, or contradicts what is stated.',
    'Find out at the bench as the message says, and state it with `--view`, `--turned`, `--mirrored` or in a bench file.',
  ),
  'set-by-eye': input(
    'Tracked points that neither fringes nor touches constrain in some direction.',
    'None needed if they were set carefully; another patch or touch constrains them.',
  ),
  'bad-table': input(
    'A table has a bad header, a wrong number of fields, or a non-numeric field.',
    'Correct the line shown.',
  ),
  'table-misread': input(
    'A returned coefficient table has another meaning: a sign, an axis, a unit, a scale, a radius, a name, or the order of its rows or terms was mistaken.',
    'Convert it back, or state its convention in its header and column names.',
  ),
  'table-rounded': input(
    'Rounded coefficients change the phase by more than the limit.',
    'Write more digits.',
  ),
  'table-incomplete': input(
    'A patch, its polynomial, its roof or the row of a term is missing from a returned coefficient table.',
    'Add the missing rows.',
  ),
  'table-differs': input(
    'A returned coefficient table gives a different phase, and no known misreading explains it.',
    'Compare its rows with those in the package.',
  ),
  'ambiguous-signs': input(
    'Signs that were not seen leave more than one place of the part, and a record needs one.',
    'Find the signs by a trial move (`steer` gives one), and write them into the readings.',
  ),
  'bad-record': input(
    'A file is no alignment record, or lacks or adds a key.',
    'Give record.json as `record` wrote it.',
  ),
  'too-many': input(
    'More entries or more errors than the limit.',
    'Correct the errors shown first, or split the scenario.',
  ),
  'shifted-feature': input(
    'A shift of the written edges (`--edge-shift`) makes a line or a space narrower than `process.minFeature`.',
    'Use a smaller shift, a coarser pattern or a finer process.',
  ),
  'no-package': file(
    'A folder holds no package that `make` wrote.',
    'Name the folder that was given to `make --out`.',
  ),
  'changed-package': file(
    'A file of a package is missing, or is not as it was written.',
    'Restore the package, or make it again from its scenario.',
  ),
  'bad-frame': file(
    'A file is no camera frame or phase map that can be read: of another form, damaged, or truncated.',
    'Save it as PNG, TIFF or PGM of 8 or 16 bits, as `.npy`, or as a grid of numbers.',
  ),
  'other-scenario': file(
    'A package, or a record, was made from another scenario.',
    'Give the scenario that it was made from.',
  ),
  'other-package': file(
    'A record was made with another package.',
    'Give the package that the record names by its SHA-256.',
  ),
  'changed-record': file(
    'A record is not as it was written: its content does not have the SHA-256 that it states.',
    'Restore the record; what is changed needs a record of its own.',
  ),
  'other-figures': file(
    'The figures of a record do not follow from its readings.',
    'Check with the version of the program that the record names; do not use the record otherwise.',
  ),
  'unreadable-file': file(
    'A file cannot be opened or is not UTF-8 text.',
    'Check the name, the permissions and the encoding.',
  ),
  'file-too-large': file('A file is larger than the limit.', 'Split the scenario.'),
  'not-writable': file(
    'A file or directory cannot be written.',
    'Check the name, the permissions and the free space.',
  ),
  'output-exists': file(
    'The output path is occupied by something that datumlight did not write.',
    'Choose another path, or remove what is there.',
  ),
} as const satisfies Record<string, CodeRow>;

export type Code = keyof typeof CODES;
