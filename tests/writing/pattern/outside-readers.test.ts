/** The pattern files as independent readers see them: klayout, gdspy and ezdxf, where they are installed. */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { tracePattern } from '../../../src/pattern/trace-pattern.ts';
import { patternDxf } from '../../../src/writing/pattern/pattern-dxf.ts';
import '../../machine/patience.ts';
import { lacks, program, pythonWith } from '../../machine/outside-programs.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';
import { patternDesign, written } from './pattern-design.ts';

const here = dirname(fileURLToPath(import.meta.url));
const klayout = program('klayout');
const [gdspy, ezdxf] = [pythonWith('gdspy'), pythonWith('ezdxf')];

let folder: string;
const file = (name: string): string => join(folder, name);

const design = patternDesign();

/** Of the zones of a patch as they are traced: left, bottom, right, top on a grid of `unit` mm. */
function tracedBox(id: string, unit: number): number[] {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  const patch = design.patches.find((one) => one.id === id)!;
  for (const { xy, count } of tracePattern(patch, { dutyCycle: 0.45, grid: unit }).zones())
    for (let k = 0; k < 2 * count; k++) {
      const [axis, step] = [k % 2, Math.floor(xy[k]! / unit + 0.5)];
      box[axis] = Math.min(box[axis]!, step);
      box[axis + 2] = Math.max(box[axis + 2]!, step);
    }
  return box;
}
const gds = written(design, { format: 'gds' });
const oas = written(design, { format: 'oas' });
const limited = written(design, { format: 'gds', vertexLimit: 60 });
const fine = written(design, { format: 'oas', stepsPerMicron: 4000 });
beforeAll(() => {
  folder = temporaryFolder();
  writeFileSync(file('pattern.gds'), gds.bytes);
  writeFileSync(file('pattern.oas'), oas.bytes);
  writeFileSync(file('limited.gds'), limited.bytes);
  writeFileSync(file('fine.oas'), fine.bytes);
});

interface LayerFacts {
  readonly polygons: number;
  readonly vertices: number;
  readonly most: number;
  readonly holes: number;
  readonly twiceArea: number;
  readonly box: readonly number[];
}
interface Facts {
  readonly files: readonly {
    readonly dbu: number;
    readonly tops: readonly string[];
    readonly cells: Readonly<Record<string, LayerFacts>>;
    readonly overlapping: number;
  }[];
  readonly xor: number;
}

const FILES = [
  ['pattern.gds', gds.summary],
  ['pattern.oas', oas.summary],
  ['limited.gds', limited.summary],
  ['fine.oas', fine.summary],
] as const;

describe.skipIf(lacks({ klayout }))('klayout', () => {
  let facts: Facts;
  beforeAll(() => {
    const out = file('facts.json');
    const names = FILES.map(([name]) => file(name)).join('|');
    const run = spawnSync(
      klayout!,
      ['-b', '-r', join(here, 'read-layout.py'), '-rd', `files=${names}`, '-rd', `out=${out}`],
      { encoding: 'utf8', env: { ...process.env, QT_QPA_PLATFORM: 'offscreen' } },
    );
    expect(`${run.stderr}${run.status}`).toBe('0');
    facts = JSON.parse(readFileSync(out, 'utf8'));
  });

  test('opens GDSII and OASIS, and the XOR of both is empty', () => {
    expect(facts.xor).toBe(0);
    expect(facts.files.map(({ tops }) => tops)).toEqual(FILES.map(() => ['ALL_PATCHES']));
    facts.files.forEach(({ dbu }, k) => {
      expect(dbu).toBeCloseTo(FILES[k]![1].unit * 1000, 12);
    });
  });

  test.each(FILES)(
    'finds in %s the polygons and areas that the program states in the boxes of its zones, none over another',
    (name, summary) => {
      const found = facts.files[FILES.findIndex(([file]) => file === name)]!;
      const perMm = 1 / summary.unit;
      expect(found.overlapping).toBe(0);
      for (const patch of summary.patches) {
        const zones = found.cells[`${patch.cell} 1/0`]!;
        expect(zones.polygons).toBe(patch.polygons);
        expect(zones.holes).toBe(0);
        expect(zones.twiceArea / (2 * perMm * perMm)).toBeCloseTo(patch.area, 9);
        expect(zones.box).toEqual(tracedBox(patch.id, summary.unit));
      }
    },
  );

  test('finds no polygon above the vertex limit, and the same area', () => {
    limited.summary.patches.forEach((patch, k) => {
      const whole = gds.summary.patches[k]!;
      expect(facts.files[2]!.cells[`${patch.cell} 1/0`]!.most).toBeLessThanOrEqual(60);
      expect(patch.polygons).toBeGreaterThan(whole.polygons);
      expect(patch.area).toBeCloseTo(whole.area, 5);
    });
  });
});

test.skipIf(lacks({ 'Python with gdspy': gdspy }))('gdspy finds the same polygons and areas in GDSII', () => {
  const script = `
import gdspy, json, sys
library = gdspy.GdsLibrary(infile=sys.argv[1])
print(json.dumps({"unit": library.unit, "precision": library.precision, "tops": [c.name for c in library.top_level()],
  "cells": {n: {"polygons": sum(1 for p in c.polygons if p.layers[0] == 1), "area": sum(p.area() for p in c.polygons if p.layers[0] == 1)}
            for n, c in library.cell_dict.items()}}))`;
  const run = spawnSync(gdspy!, ['-c', script, file('pattern.gds')], { encoding: 'utf8' });
  expect(run.stderr).toBe('');
  const facts = JSON.parse(run.stdout);
  expect(facts).toMatchObject({ unit: 1e-6, precision: 1e-9, tops: ['ALL_PATCHES'] });
  for (const patch of gds.summary.patches) {
    expect(facts.cells[patch.cell].polygons).toBe(patch.polygons);
    expect(facts.cells[patch.cell].area / 1e6).toBeCloseTo(patch.area, 8);
  }
});

test.skipIf(lacks({ 'Python with ezdxf': ezdxf }))('ezdxf audits the DXF and finds the same polygons', () => {
  const { text, polygons, vertices } = patternDxf(design);
  writeFileSync(file('pattern.dxf'), text);
  const script = `
import ezdxf, json, sys
document = ezdxf.readfile(sys.argv[1])
audit = document.audit()
found = [e for e in document.modelspace() if e.dxf.layer == "WRITTEN"]
print(json.dumps({"errors": len(audit.errors), "fixes": len(audit.fixes), "units": document.header["$INSUNITS"], "polygons": len(found),
  "vertices": sum(len(e) for e in found), "closed": all(e.closed for e in found), "kinds": sorted({e.dxftype() for e in document.modelspace()}),
  "layers": sorted({e.dxf.layer for e in document.modelspace()})}))`;
  const run = spawnSync(ezdxf!, ['-c', script, file('pattern.dxf')], { encoding: 'utf8' });
  expect(run.stderr).toBe('');
  expect(JSON.parse(run.stdout)).toEqual({
    errors: 0,
    fixes: 0,
    units: 4,
    polygons,
    vertices,
    closed: true,
    kinds: ['LWPOLYLINE', 'TEXT'],
    layers: ['NOTES', 'PATCH', 'SUBSTRATE', 'WRITTEN'],
  });
});
