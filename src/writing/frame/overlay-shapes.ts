/** What is drawn over a frame: each patch's outline where it was found, its number with a mark, and the dark fringes that were fitted. Pixels. */
import type { Design } from '../../design/design.ts';
import type { Outline } from '../../geometry/outline.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { darkFringes, type Line } from './dark-fringes.ts';
import { isSure } from './fault-words.ts';
import { numberOf, type ReadPicture } from './frame-report.ts';

/** Told apart by form and by colour: a tick, a question mark, a cross. */
export type OverlayMark = 'read' | 'unsure' | 'unread';

export interface OverlayPatch {
  readonly number: number;
  readonly id: string;
  readonly mark: OverlayMark;
  readonly outline: readonly Line[];
  readonly dark: readonly Line[];
  /** Around the outline, columns and rows. */
  readonly box: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
}

const POINTS = 180;

export function overlayPatches(design: Design, { taken, reading }: ReadPicture): readonly OverlayPatch[] {
  const frame = taken[0]!.frames[0]!;
  const { map } = reading;
  return reading.patches.map((patch) => {
    const outline = edgeLines(patch.patch.outline).map((line) => line.map(map.toPixel) as unknown as Line);
    const columns = outline.map(([[column]]) => column);
    const rows = outline.map(([[, row]]) => row);
    const isAny = patch.values.some((value) => value !== undefined);
    return {
      number: numberOf(design, patch),
      id: patch.patch.id,
      mark: isSure(patch) ? 'read' : isAny ? 'unsure' : 'unread',
      outline,
      dark: darkFringes(design, patch, frame, map),
      box: {
        left: Math.min(...columns),
        right: Math.max(...columns),
        top: Math.min(...rows),
        bottom: Math.max(...rows),
      },
    };
  });
}

/** Between neighbouring points of the edge; where the next point is far, another edge begins: that of a hole. */
function edgeLines(outline: Outline): readonly Line[] {
  const { xs, ys } = boundaryPoints(outline, POINTS);
  const points = Array.from(xs, (x, k): Vec2 => [x, ys[k]!]);
  const gap = (a: Vec2, b: Vec2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const steps = points.slice(1).map((point, k) => gap(points[k]!, point));
  const usual = steps.toSorted((a, b) => a - b)[steps.length >> 1] ?? 0;
  const lines: Line[] = [];
  let start = 0;
  for (let k = 0; k < points.length; k++) {
    const next = points[k + 1];
    if (next !== undefined && gap(points[k]!, next) <= FAR * usual) lines.push([points[k]!, next]);
    else {
      lines.push([points[k]!, points[start]!]);
      start = k + 1;
    }
  }
  return lines;
}

const FAR = 4;
