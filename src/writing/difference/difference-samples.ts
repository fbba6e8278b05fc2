/** By how much the phase of a patch that stands still has changed, from two tables `samples.csv`. */

/** The last digit of the table, waves: less is rounding. */
const LAST_DIGIT = 2e-9;

/** The largest change of phase, waves, of each patch whose sample points are the same in both and whose phase is not. */
export function samplesMoved(before: string, after: string): ReadonlyMap<string, number> {
  if (before === after) return new Map();
  const [old, fresh] = [phases(before), phases(after)];
  const moved = new Map<string, number>();
  for (const [patch, points] of fresh) {
    const was = old.get(patch);
    if (was === undefined || was.size !== points.size) continue;
    let worst = 0;
    for (const [place, phase] of points) {
      const then = was.get(place);
      worst = then === undefined ? Number.NaN : Math.max(worst, Math.abs(phase - then));
    }
    if (worst > LAST_DIGIT) moved.set(patch, worst);
  }
  return moved;
}

/** Phase by patch, then by place as written; ids of patches need no quotes in a CSV. */
function phases(csv: string): ReadonlyMap<string, ReadonlyMap<string, number>> {
  const found = new Map<string, Map<string, number>>();
  for (const line of csv.split('\n')) {
    if (line === '' || line.startsWith('#') || line.startsWith('patch,')) continue;
    const [patch, x, y, phase] = line.split(',');
    const points = found.get(patch!) ?? new Map<string, number>();
    points.set(`${x},${y}`, Number(phase));
    found.set(patch!, points);
  }
  return found;
}
