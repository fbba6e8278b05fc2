/**
 * `mapping.csv`: which place of the surface under test each place of the pattern and of the camera shows. First the marks on the part, then
 * a square grid on the pattern over the light's footprint.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { type MappedPoint, mappedGrid, mappedMarks } from '../../metrology/null/mapping.ts';
import { DEG_PER_RAD } from '../../quantity/conversion.ts';
import { fixed, trimmed } from '../../quantity/format.ts';
import { type Draft, draftLines } from '../convention.ts';
import { csvField } from '../csv.ts';
import { cameraWords } from './mapping-words.ts';

const COLUMNS = [
  'mark',
  ...['pattern_x_mm', 'pattern_y_mm', 'surface_x_mm', 'surface_y_mm', 'camera_column_px', 'camera_row_px'],
  ...['magnification_max', 'magnification_min', 'incidence_deg', 'leaving_deg'],
];

export function mappingCsv(design: Design, main: MainPattern, { draft }: Draft): string {
  const { pitch, points } = mappedGrid(design, main);
  const marks = mappedMarks(design, main);
  const lines = [
    ...draftLines(draft),
    `Datumlight mapping of surface ${main.test.surface}: which of its places each place of pattern and camera shows.`,
    'pattern_x, pattern_y: substrate frame, on the pattern surface; x right and y up as seen from the part side.',
    `surface_x, surface_y: the own x and y of surface ${main.test.surface}, those of test.aperture.`,
    `camera_column, camera_row: ${cameraWords(design)}`,
    'magnification: mm of surface, along it, for 1 mm of pattern: the largest and the smallest of all directions.',
    'incidence, leaving: angle to the normal of the pattern, in air, of the light that arrives from the interferometer and of the light that leaves for the surface.',
    `Rows: ${marks.length} marks of the part by id, then ${points.length} points ${trimmed(pitch, 6)} mm apart on the pattern.`,
  ].map((line) => `# ${line}`);
  lines.push(COLUMNS.join(','));
  for (const { id, point } of marks) lines.push(row(id, point));
  for (const point of points) lines.push(row('', point));
  return `${lines.join('\n')}\n`;
}

const row = (mark: string, point: MappedPoint): string =>
  [
    csvField(mark),
    ...[...point.pattern, ...point.surface].map((value) => fixed(value, 6)),
    ...point.camera.map((value) => fixed(value, 3)),
    ...point.magnification.map((value) => fixed(value, 6)),
    ...[point.incidence, point.leaving].map((angle) => fixed(angle * DEG_PER_RAD, 4)),
  ].join(',');
