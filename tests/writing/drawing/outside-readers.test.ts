import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drawingFont } from '../../../src/disk/shipped-files.ts';
import { layoutDxf } from '../../../src/writing/drawing/formats/layout-dxf.ts';
import { layoutPdf } from '../../../src/writing/drawing/formats/layout-pdf.ts';
import { layoutSvg } from '../../../src/writing/drawing/formats/layout-svg.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import '../../machine/patience.ts';
import { lacks, program, pythonWith } from '../../machine/outside-programs.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';
import { DRAWN_DESIGNS, drawnDesign, HOSTILE_DESIGN } from './drawn-designs.ts';
import { LAYER_NAMES, textsOn } from './drawn-items.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: true };
const ezdxf = pythonWith('ezdxf');
const [pdfinfo, pdftotext, pdftoppm] = [program('pdfinfo'), program('pdftotext'), program('pdftoppm')];

describe('outside readers', () => {
  it.skipIf(lacks({ 'Python with ezdxf': ezdxf }))(
    'ezdxf finds no error and repairs nothing; expat reads every SVG',
    () => {
      const folder = temporaryFolder();
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
      const run = spawnSync(ezdxf!, ['-c', script, folder], { encoding: 'utf8' });
      expect(run.stderr).toBe('');
      expect(JSON.parse(run.stdout)).toEqual([]);
    },
  );

  it.skipIf(lacks({ pdfinfo, pdftotext, pdftoppm }))(
    'pdftotext and pdftoppm read every PDF: the sheet’s size, every text, one page without complaint',
    () => {
      const folder = temporaryFolder();
      for (const [name, wish] of DRAWN_DESIGNS) {
        const drawing = layoutModel(drawnDesign(wish), CONTEXT);
        const file = join(folder, 'layout.pdf');
        writeFileSync(file, layoutPdf(drawing, drawingFont()));
        const box = spawnSync(pdfinfo!, [file], { encoding: 'utf8' });
        expect(box.stderr, name).toBe('');
        const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+) pts/.exec(box.stdout)!.map(Number);
        const { left, bottom, right, top } = drawing.sheet;
        expect(Math.abs((width! * 25.4) / 72 - (right - left))).toBeLessThan(0.01);
        expect(Math.abs((height! * 25.4) / 72 - (top - bottom))).toBeLessThan(0.01);
        expect(box.stdout).toMatch(/Pages:\s+1\n/);
        const read = spawnSync(pdftotext!, ['-raw', file, '-'], { encoding: 'utf8' });
        expect(read.stderr, name).toBe('');
        const words = new Set(read.stdout.split(/\s+/));
        const drawn = textsOn(drawing, ...LAYER_NAMES).flatMap(({ text, angle }) =>
          angle === 0 ? text.split(' ') : [],
        );
        const lost = drawn.filter((word) => /^[\x20-\x7e]{2,}$/.test(word) && !words.has(word));
        expect(lost, name).toEqual([]);
        const picture = spawnSync(pdftoppm!, ['-r', '20', '-png', file, join(folder, 'page')], {
          encoding: 'utf8',
        });
        expect(picture.stderr + picture.status, name).toBe('0');
      }
    },
  );
});
