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

interface PrintedSheet {
  readonly [fact: string]: unknown;
}
type Rgb = readonly [number, number, number];
type Palette = Readonly<Record<string, Rgb>>;

/** As every reader of the release has to show it. */
const TITLE = 'Spiegelträger λ/20, зеркало, 基準';
const SHEET_LAYERS = ['DRAFT_MARK', 'FRAME', 'GRID', 'TITLE_BLOCK', 'VIEW_MARK'];
/** Index 7 is black on white and white on black. */
const OPPOSITE = '7';
const [WHITE, BLACK]: readonly [Rgb, Rgb] = [
  [255, 255, 255],
  [0, 0, 0],
];
/** The ground of model space as a common CAD program has it; from memory. */
const DARK_GREY: Rgb = [33, 40, 48];
/** Of graphics that must be seen: WCAG 2.1, success criterion 1.4.11. */
const LEAST_CONTRAST = 3;

/** The ratio of relative luminances, as WCAG 2.1 defines both. */
function contrast(a: Rgb, b: Rgb): number {
  const luminance = (colour: Rgb): number => {
    const [red, green, blue] = colour.map((value) => {
      const share = value / 255;
      return share <= 0.03928 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
  };
  const [light, dark] = [luminance(a), luminance(b)].sort((p, q) => q - p);
  return (light! + 0.05) / (dark! + 0.05);
}

describe('outside readers', () => {
  it.skipIf(lacks({ 'Python with ezdxf': ezdxf }))(
    'ezdxf finds no error and repairs nothing, opens the sheet at 1:1, and shows its lines on white and on black; expat reads every SVG',
    () => {
      const folder = temporaryFolder();
      const designs = [
        ...DRAWN_DESIGNS.map(([, wish]) => drawnDesign({ ...wish, title: TITLE })),
        HOSTILE_DESIGN,
      ];
      designs.forEach((design, k) => {
        writeFileSync(join(folder, `${1000 + k}.dxf`), layoutDxf(layoutModel(design, CONTEXT)));
        writeFileSync(join(folder, `${1000 + k}.svg`), layoutSvg(layoutModel(design, CONTEXT)));
      });
      const script = [
        'import sys, json, glob, ezdxf, xml.sax',
        'from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb',
        'FILLED = ["PATTERN_AREAS"]',
        'found, printed, titled = [], [], 0',
        'for name in sorted(glob.glob(sys.argv[1] + "/*.dxf")):',
        '    document = ezdxf.readfile(name)',
        '    audit = document.audit()',
        '    open_loops = [e for e in document.modelspace().query("LWPOLYLINE") if not e.closed]',
        '    found += [e.message for e in audit.errors + audit.fixes] + ["open loop" for e in open_loops]',
        '    assert document.units == 4 and len(document.modelspace()) > 50',
        '    sheet = document.active_layout()',
        '    paper, view = sheet.query("VIEWPORT")',
        '    shown = view.dxf.view_center_point - view.dxf.center',
        '    printed.append(dict(layouts=document.layout_names(), opens=sheet.name, width=sheet.dxf.paper_width, height=sheet.dxf.paper_height,',
        '      scale=view.dxf.height / view.dxf.view_height, moved=[shown.x, shown.y], on=view.dxf.status, frozen=sorted(view.frozen_layers),',
        '      border=document.layers.get(view.dxf.layer).dxf.plot, on_paper=sorted({e.dxf.layer for e in sheet if e is not paper and e is not view})))',
        '    titled += any(text.dxf.text == sys.argv[2] for text in document.modelspace().query("TEXT"))',
        '    colours = {layer.dxf.color for layer in document.layers if layer.dxf.name not in FILLED}',
        'palette = {index: int2rgb(DXF_DEFAULT_COLORS[index]) for index in colours}',
        'for name in sorted(glob.glob(sys.argv[1] + "/*.svg")):',
        '    xml.sax.parse(name, xml.sax.ContentHandler())',
        'print(json.dumps([found, printed, palette, titled]))',
      ].join('\n');
      const run = spawnSync(ezdxf!, ['-c', script, folder, TITLE], { encoding: 'utf8' });
      expect(run.stderr).toBe('');
      const [found, sheets, palette, titled] = JSON.parse(run.stdout) as [
        string[],
        PrintedSheet[],
        Palette,
        number,
      ];
      expect(found).toEqual([]);
      expect(titled).toBe(DRAWN_DESIGNS.length);
      sheets.forEach((printed, k) => {
        const { left, bottom, right, top } = layoutModel(designs[k]!, CONTEXT).sheet;
        expect(printed).toEqual({
          layouts: ['Model', 'Sheet 1 to 1'],
          opens: 'Sheet 1 to 1',
          width: right - left,
          height: top - bottom,
          scale: 1,
          moved: [0, 0],
          on: 2,
          frozen: SHEET_LAYERS,
          border: 0,
          on_paper: SHEET_LAYERS,
        });
      });
      for (const [index, colour] of Object.entries(palette)) {
        if (index === OPPOSITE) continue;
        for (const ground of [WHITE, BLACK, DARK_GREY])
          expect(contrast(colour, ground), `${index} on ${ground}`).toBeGreaterThan(LEAST_CONTRAST);
      }
      expect(Object.keys(palette).length).toBeGreaterThan(3);
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
