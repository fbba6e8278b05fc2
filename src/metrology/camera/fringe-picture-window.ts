/** What part of the pattern a picture shows, and how its pixels lie: mm, in the substrate frame as seen from the part side. */
import type { Design } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Vec2 } from '../../geometry/vector.ts';

/** Pixel (column, row) has its middle at centre + pitch · (column − (columns − 1)/2, (rows − 1)/2 − row): the first row is the top. */
export interface PictureWindow {
  readonly centre: Vec2;
  readonly pitch: number;
  readonly columns: number;
  readonly rows: number;
}

/** Room left around a patch, as a part of its size. */
const MARGIN = 0.06;

/** A square window of `size` pixels a side around one patch. */
export function patchWindow(patch: Pick<Pattern, 'outline'>, size: number): PictureWindow {
  const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
  const width = Math.max(maxX - minX, maxY - minY) * (1 + 2 * MARGIN);
  return { centre: [(minX + maxX) / 2, (minY + maxY) / 2], pitch: width / size, columns: size, rows: size };
}

/** A square window over all that the camera sees: the lit circle, or the substrate where the scenario bounds the beam nowhere. */
export function apertureWindow(design: Design, size: number): PictureWindow {
  const { centre, cameraDiameter, radius } = design.beam;
  if (radius !== undefined) return { centre, pitch: cameraDiameter / size, columns: size, rows: size };
  const { minX, maxX, minY, maxY } = boundsOf(design.scenario.substrate.outline);
  return {
    centre: [(minX + maxX) / 2, (minY + maxY) / 2],
    pitch: cameraDiameter / size,
    columns: size,
    rows: size,
  };
}

/** The same area with pixels of about the given pitch. */
export function resampled(window: PictureWindow, pitch: number): PictureWindow {
  const count = (pixels: number): number => Math.max(1, Math.round((pixels * window.pitch) / pitch));
  const [columns, rows] = [count(window.columns), count(window.rows)];
  return { centre: window.centre, pitch: (window.pitch * window.columns) / columns, columns, rows };
}

export const columnAt = ({ centre, pitch, columns }: PictureWindow, x: number): number =>
  (x - centre[0]) / pitch + (columns - 1) / 2;
export const rowAt = ({ centre, pitch, rows }: PictureWindow, y: number): number =>
  (rows - 1) / 2 - (y - centre[1]) / pitch;
export const xOf = ({ centre, pitch, columns }: PictureWindow, column: number): number =>
  centre[0] + pitch * (column - (columns - 1) / 2);
export const yOf = ({ centre, pitch, rows }: PictureWindow, row: number): number =>
  centre[1] + pitch * ((rows - 1) / 2 - row);
