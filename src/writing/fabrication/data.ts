/** The data that the fabricator gets: layers, cells, counts, unit, edge shift, the narrowest line and space, files by their hashes. */
import { type Design, patternsOf } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { type LeastWidth, leastWidths } from '../../pattern/least-widths.ts';
import { MM_PER_UM, UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { type FileContent, hashOf } from '../manifest.ts';
import { places, significant } from '../page/figures.ts';
import type { PatternReport } from '../pattern/pattern-files.ts';
import { sliverWords } from '../pattern/pattern-notes.ts';
import { layerWords, PATTERN_LAYERS } from '../pattern-layers.ts';
import { zoneWords } from '../written-areas.ts';
import { type Block, banner, heading, paragraph } from './blocks.ts';

export function dataBlocks(design: Design, pattern: PatternReport | undefined): readonly Block[] {
  return [
    heading('Data'),
    ...(pattern === undefined ? tablesOnly(design) : patternFiles(design, pattern)),
    heading('Narrowest line and space'),
    ...narrowest(design, pattern?.edgeShift_um ?? 0),
  ];
}

const tablesOnly = (design: Design): readonly Block[] => [
  paragraph(
    `This package has no pattern files. Make the data from coefficients.csv, which gives the phase Φ of each pattern. ${zoneWords(design).replaceAll('Phi', 'Φ')} ` +
      'coefficients.json has the same, coefficients.html has it to read with the meaning of each column, samples.csv has Φ at ten points of each pattern. Outlines are in layout.dxf. You choose the database unit; 1 nm is usual.',
  ),
];

function patternFiles(design: Design, pattern: PatternReport): readonly Block[] {
  const { files, layers, thinned } = pattern;
  const zones = thinned ? PATTERN_LAYERS.thinned : PATTERN_LAYERS.written;
  const sizes = new Map(patternsOf(design).map(({ pattern: { id, outline } }) => [id, sizeOf(outline)]));
  const patches = files[0]?.patches ?? [];
  return [
    ...(thinned ? [banner('THINNED: A PICTURE, NOT FOR FABRICATION')] : []),
    {
      is: 'facts',
      rows: [
        [
          'Coordinates',
          pattern.mirrored
            ? 'x to −x of the drawing and the tables: as the writer sees the patterned surface'
            : 'as the drawing and the tables have them, seen from the part side; origin where they have it',
        ],
        ...files.map((file) => [file.file, fileWords(file)] as const),
        ['Slivers', sliverWords(total(patches, 'slivers'), pattern.slivers, pattern.minFeature_um, 'µm')],
      ],
    },
    {
      is: 'table',
      heads: ['Layer/datatype', 'In DXF', 'Contents'],
      rows: layers
        .filter(
          ({ layer, datatype }) => layer !== PATTERN_LAYERS.written.layer || datatype === zones.datatype,
        )
        .map((layer) => [layerWords(layer), layer.name, layer.meaning]),
    },
    {
      is: 'table',
      heads: [
        'Pattern',
        'Cell',
        'Size, mm',
        'Polygons',
        'Vertices',
        'Slivers',
        'Written area, mm²',
        'Edge error at most, nm',
      ],
      rows: patches.map((cell) => [
        cell.id,
        cell.cell ?? '–',
        sizes.get(cell.id) ?? '–',
        String(cell.polygons),
        String(cell.vertices),
        String(cell.slivers),
        cell.area_mm2.toFixed(6),
        significant(cell.bound_nm),
      ]),
      numeric: [2, 3, 4, 5, 6, 7],
    },
    ...sameIn(files),
  ];
}

type File = PatternReport['files'][number];

const fileWords = ({ topCell, databaseUnit_um, patches }: File): string =>
  `${topCell === null ? 'no cells; coordinates in mm' : `top cell ${topCell}; database unit ${significant(databaseUnit_um!)} µm`}; ` +
  `${total(patches, 'polygons')} polygons, ${total(patches, 'vertices')} vertices in the zones`;

/** What the other files hold, where the table is of the first. */
function sameIn(files: readonly File[]): readonly Block[] {
  const [first, ...others] = files;
  return others.map(({ file, topCell }) =>
    paragraph(
      topCell === null
        ? `The table is of ${first!.file}. ${file} holds the same patterns without cells; where the limit of vertices divides a polygon there, the counts differ.`
        : `${file} holds the same cells as ${first!.file}.`,
    ),
  );
}

type Cell = PatternReport['files'][number]['patches'][number];
const total = (cells: readonly Cell[], key: 'polygons' | 'vertices' | 'slivers'): number =>
  cells.reduce((sum, cell) => sum + cell[key], 0);

function sizeOf(outline: Parameters<typeof boundsOf>[0]): string {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  return `${trimmed(maxX - minX, 3)} × ${trimmed(maxY - minY, 3)}`;
}

function narrowest(design: Design, shift_um: number): readonly Block[] {
  const { dutyCycle, minFeature } = design.scenario.process;
  const patterns = patternsOf(design).map(({ pattern }) => pattern);
  const least = leastWidths(patterns, dutyCycle, shift_um * MM_PER_UM);
  if (least === undefined) return [paragraph('No pattern has lines.')];
  return [
    {
      is: 'table',
      heads: ['', 'Width, µm', 'Pattern', 'At x, y, mm, as on the drawing'],
      rows: [widthRow('Narrowest written line', least.line), widthRow('Narrowest space', least.space)],
      numeric: [1],
    },
    paragraph(
      `Between pattern lines${shift_um === 0 ? ', as designed' : ', edge shift included'}; the least that the design allows is ${trimmed(minFeature * UM_PER_MM, 6)} µm. ` +
        'Where the outline of a pattern cuts a line, what is left of it can be narrower.',
    ),
  ];
}

const widthRow = (name: string, { width, pattern, at }: LeastWidth): readonly string[] => [
  name,
  significant(width * UM_PER_MM, 4),
  pattern,
  places(at),
];

const FILES: readonly (readonly [name: string, contents: string])[] = [
  ['layout.pdf', 'drawing, scale 1:1'],
  ['layout.svg', 'the same'],
  ['layout.dxf', 'the same, with outlines as arcs and lines'],
  ['coefficients.csv', 'phase of each pattern; takes precedence over all others'],
  ['coefficients.json', 'the same for a program'],
  ['coefficients.html', 'the same to read'],
  ['samples.csv', 'phase at ten points of each pattern, to prove the data'],
  ['pattern.gds', 'written pattern, GDSII'],
  ['pattern.oas', 'written pattern, OASIS'],
  ['pattern.dxf', 'written pattern, DXF'],
];

/** Of `files`, those that the fabricator uses. */
export function filesTable(files: ReadonlyMap<string, FileContent>): readonly Block[] {
  const rows = FILES.flatMap(([name, contents]) => {
    const content = files.get(name);
    return content === undefined ? [] : [[name, contents, hashOf(content)]];
  });
  return [heading('Files'), { is: 'table', heads: ['File', 'Contents', 'SHA-256'], rows }];
}
