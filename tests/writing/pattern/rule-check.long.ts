/**
 * klayout's rule check over the whole cells of every example that holds patches: vertex limit, duplicates, polygons that cross themselves,
 * overlaps, and off the edges of the patterns no line and no space under the process's least feature, less the bound of both edges.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { workOut } from '../../../src/batch/work-out.ts';
import { filesBeside } from '../../../src/disk/files-beside.ts';
import { lacks } from '../../machine/outside-programs.ts';
import '../../machine/patience.ts';
import { written } from './pattern-design.ts';
import { klayout, ruleCheck } from './rule-check.ts';

const NM_PER_MM = 1e6;
/** Both edges are good to 5 nm and rounded to 1 nm. */
const OF_EDGES = 12;
const LIMIT = 4094;

const EXAMPLES = readdirSync('examples')
  .filter((name) => name.endsWith('.yaml'))
  .flatMap((name) => {
    const file = join('examples', name);
    const { design } = workOut(readFileSync(file, 'utf8'), file, undefined, filesBeside(file));
    return design === undefined || name === 'broken-rules.yaml' ? [] : [[name, design] as const];
  });

describe.skipIf(lacks({ klayout }))('klayout finds no fault', () => {
  it.each(EXAMPLES)('in %s', (_, design) => {
    const { patches } = design;
    const least = design.scenario.process.minFeature * NM_PER_MM - OF_EDGES;
    for (const patch of patches) {
      const { bytes, summary } = written({ ...design, patches: [patch] }, { format: 'gds' });
      const cell = summary.patches[0]!.cell;
      const check = ruleCheck(bytes, Math.floor(least))[cell]!;
      expect(check.polygons).toBe(summary.patches[0]!.polygons);
      expect(check.most).toBeLessThanOrEqual(LIMIT);
      expect({ id: patch.id, ...check }).toMatchObject({
        twice: 0,
        strange: 0,
        overlapping: 0,
        narrow: 0,
        close: 0,
      });
    }
  });
});
