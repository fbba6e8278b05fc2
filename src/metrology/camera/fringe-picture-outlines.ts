/** The keep-outs and the substrate's edge as thin grey lines in a picture of the whole aperture. */
import type { Design } from '../../design/design.ts';
import type { Outline } from '../../geometry/outline.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import { columnAt, type PictureWindow, rowAt } from './fringe-picture-window.ts';

/** Of full scale: seen beside fringes, and not taken for one. */
const EDGE = 0.35;
const KEEP_OUT = 0.5;
/** Points to a pixel of a side of the picture, all around an outline: no gaps in its line. */
const POINTS_PER_PIXEL = 8;

export function outlinesOver({ scenario }: Design, window: PictureWindow, intensity: Float64Array): void {
  draw(scenario.substrate.outline, EDGE, window, intensity);
  for (const { outline } of scenario.keepOuts) draw(outline, KEEP_OUT, window, intensity);
}

function draw(outline: Outline, level: number, window: PictureWindow, intensity: Float64Array): void {
  const { xs, ys } = boundaryPoints(outline, POINTS_PER_PIXEL * window.columns);
  for (let i = 0; i < xs.length; i++) {
    const [column, row] = [Math.round(columnAt(window, xs[i]!)), Math.round(rowAt(window, ys[i]!))];
    if (column < 0 || row < 0 || column >= window.columns || row >= window.rows) continue;
    intensity[row * window.columns + column] = level;
  }
}
