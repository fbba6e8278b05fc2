/**
 * A rule check by klayout over whole cells: vertex limit, duplicates, polygons that cross themselves, overlaps, widths and spaces. A roof, its
 * halves joined at the ridge, is not exposed twice there once every polygon is sized outward; the check itself sees a pattern that is.
 */
import { describe, expect, it } from 'vitest';
import { lacks } from '../../machine/outside-programs.ts';
import '../../machine/patience.ts';
import { patternDesign, written } from './pattern-design.ts';
import { klayout, ruleCheck } from './rule-check.ts';

/** The program's own, and one that cuts most zones. */
const [LIMIT, LOW] = [4094, 60];
/** Of the design's narrowest line, 0.45 of a period of 3 µm, less the bound of both edges. */
const LEAST = 1150;

describe.skipIf(lacks({ klayout }))('klayout', () => {
  const found =
    klayout === undefined ? {} : ruleCheck(written(patternDesign(), { format: 'gds' }).bytes, LEAST);

  it.each(['north_1', 'rings', 'ring_patch', 'saddle'])('finds no fault in the cell %s', (cell) => {
    const check = found[cell]!;
    expect(check.polygons).toBeGreaterThan(10);
    expect(check.most).toBeLessThanOrEqual(LIMIT);
    expect(check).toMatchObject({ twice: 0, strange: 0, overlapping: 0 });
  });

  it('finds lines and spaces of a roof wide enough, and nothing exposed twice after sizing', () => {
    expect(found.north_1).toMatchObject({ narrow: 0, close: 0, sizedOverlap: 0 });
    // The ring's zones abut at the cut through its hole: that is what the check looks for.
    expect(found.ring_patch!.sizedOverlap).toBeGreaterThan(0);
  });

  it('sees lines that are too narrow, and zones cut to a low vertex limit, which abut', () => {
    const design = patternDesign();
    const roof = { ...design, patches: design.patches.slice(0, 1) };
    // Lines of 10.6 to 10.9 µm.
    const { north_1 } = ruleCheck(written(roof, { format: 'gds', vertexLimit: LOW }).bytes, 12_000);
    expect(north_1!.narrow).toBeGreaterThan(10);
    expect(north_1!.most).toBeLessThanOrEqual(LOW);
    expect(north_1).toMatchObject({ twice: 0, strange: 0, overlapping: 0 });
    expect(north_1!.sizedOverlap).toBeGreaterThan(0);
  });
});
