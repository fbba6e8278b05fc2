import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { layoutDxf } from '../../../src/writing/drawing/layout-dxf.ts';
import { layoutModel } from '../../../src/writing/drawing/layout-model.ts';
import { layoutSvg } from '../../../src/writing/drawing/layout-svg.ts';
import { DRAWN_DESIGNS, drawnDesign, HOSTILE_DESIGN } from './drawn-designs.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: true };
const PYTHON = '/usr/bin/python3';
const hasEzdxf = spawnSync(PYTHON, ['-c', 'import ezdxf']).status === 0;

describe('outside readers', () => {
  it.skipIf(!hasEzdxf)(
    'ezdxf (skipped without it) finds no error and repairs nothing; expat reads every SVG',
    () => {
      const folder = mkdtempSync(join(tmpdir(), 'layout-'));
      try {
        const designs = [...DRAWN_DESIGNS.map(([, wish]) => drawnDesign(wish)), HOSTILE_DESIGN];
        designs.forEach((design, k) => {
          writeFileSync(join(folder, `${k}.dxf`), layoutDxf(layoutModel(design, CONTEXT)));
          writeFileSync(join(folder, `${k}.svg`), layoutSvg(layoutModel(design, CONTEXT)));
        });
        const script = [
          'import sys, json, glob, ezdxf, xml.sax',
          'found = []',
          'for name in sorted(glob.glob(sys.argv[1] + "/*.dxf")):',
          '    document = ezdxf.readfile(name)',
          '    audit = document.audit()',
          '    open_loops = [e for e in document.modelspace().query("LWPOLYLINE") if not e.closed]',
          '    found += [e.message for e in audit.errors + audit.fixes] + ["open loop" for e in open_loops]',
          '    assert document.units == 4 and len(document.modelspace()) > 50',
          'for name in sorted(glob.glob(sys.argv[1] + "/*.svg")):',
          '    xml.sax.parse(name, xml.sax.ContentHandler())',
          'print(json.dumps(found))',
        ].join('\n');
        const run = spawnSync(PYTHON, ['-c', script, folder], { encoding: 'utf8' });
        expect(run.stderr).toBe('');
        expect(JSON.parse(run.stdout)).toEqual([]);
      } finally {
        rmSync(folder, { recursive: true, force: true });
      }
    },
  );
});
