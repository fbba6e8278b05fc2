/** The surface under test for the bench: how its picture is scaled and turned, and where the marks on it appear. */

import type { Design } from '../../design/design.ts';
import { apertureWindow } from '../../metrology/camera/fringe-picture-window.ts';
import { distortionOf } from '../../metrology/null/mapping.ts';
import {
  type CameraOrientation,
  isPlain,
  PLAIN_ORIENTATION,
  pixelAt,
} from '../../scenario/camera-orientation.ts';
import { cameraWords, departureWords } from '../mapping/mapping-words.ts';
import { place, significant } from '../page/figures.ts';
import { type Html, html, table } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';
import { motionsWords } from './motions-words.ts';
import { nullSection } from './null-section.ts';

/** Nothing where the scenario names no surface. */
export function surfaceSection(
  design: Design,
  { test }: Report,
  orientation: CameraOrientation = PLAIN_ORIENTATION,
): Html | undefined {
  if (design.main === undefined || test === undefined) return undefined;
  // The report counts pixels as seen from the interferometer, whichever way the camera is turned.
  const grid = apertureWindow(design, design.scenario.interferometer.pixelsAcrossBeam);
  const rows = test.fiducials.map(({ id, at, pattern_mm }) => [
    id,
    ...[...at, ...pattern_mm].map(place),
    ...pixelAt(orientation, grid, pattern_mm).map((pixel) => significant(Number(pixel.toFixed(1)), 6)),
  ]);
  const heads = ['mark', 'surface x, mm', 'y, mm', 'pattern x, mm', 'y, mm', 'camera column, px', 'row, px'];
  return html`<h2>Surface under test</h2>
<p>Surface ${test.surface}: ${departureWords(distortionOf(design.main))}. mapping.svg shows its x and y ${isPlain(orientation) ? 'as the camera sees them' : 'as seen from the interferometer'}; mapping.csv is the table.</p>
${nullSection(design, design.main, test, orientation)}${motionsWords(test)}${rows.length === 0 ? '' : html`<p>Where the marks on it appear. Camera: ${cameraWords(design, orientation)}</p>\n${table(heads, rows, [1, 2, 3, 4, 5, 6])}`}
`;
}
