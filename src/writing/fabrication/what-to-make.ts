/** What the fabricator makes: blank, side, tone, depth, what lies outside of the patterns, and the order of the work. */
import type { Design } from '../../design/design.ts';
import { NM_PER_MM, UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { seatWords } from '../drawing/seat-model.ts';
import { placedOutlineText } from '../drawing/sheet/patch-table.ts';
import { viewStatement } from '../drawing/sheet/title-block.ts';
import type { WrittenFiles } from '../written-areas.ts';
import { blankDrawingWords, faceWords, NOT_STATED, writtenAreas } from '../written-areas.ts';
import { type Block, heading, paragraph } from './blocks.ts';

const NAMES = {
  WRITTEN: 'Written areas, and all others',
  DEPTH: 'Depth',
  DENSITY: 'Optical density',
  WIDTH: 'Line width',
  DATA: 'Mirroring',
  'EDGE SHIFT': 'Edge shift',
  LAYERS: 'Layers',
} as const;

export function whatToMake(design: Design, files: WrittenFiles | undefined): readonly Block[] {
  const { drawing, process, substrate, keepOuts, seats } = design.scenario;
  const { glass, light } = design;
  const stated = (text: string | undefined): string => text || '–';
  return [
    heading('What to make'),
    {
      is: 'facts',
      rows: [
        [
          'Drawing',
          `number ${stated(drawing?.number)}, revision ${stated(drawing?.revision)}: layout.pdf, layout.svg, layout.dxf`,
        ],
        ['Patterns', `${patternCount(design)}, all on one face of one blank`],
        ['Pieces', `number ${NOT_STATED}`],
        [
          'Blank',
          `${placedOutlineText(substrate.outline)} mm, ${
            glass.thickness === 0
              ? 'crossed by no light'
              : `thickness ${trimmed(glass.thickness, 6)} mm, ${glass.name}, index ${trimmed(glass.index, 6)} against air`
          }. ${blankDrawingWords(design)}`,
        ],
        [
          'Patterned side',
          `${faceWords(design)} It is the face ${substrate.patternFaces === 'part' ? 'toward' : 'away from'} the viewer of the drawing.`,
        ],
        ['View of the drawing', viewStatement(substrate.patternFaces)],
        [
          'Process',
          process.kind === 'etched' ? 'phase pattern, etched into the glass' : 'amplitude pattern in chrome',
        ],
        ...writtenAreas(design, files).map(({ name, text }) => [NAMES[name], text] as const),
        [
          'Duty cycle',
          `${trimmed(process.dutyCycle, 6)}: width of a written line over the period, after the process`,
        ],
        [
          'Smallest feature',
          `${trimmed(process.minFeature * UM_PER_MM, 6)} µm is the least the design allows; “Narrowest line and space” has what there is`,
        ],
        ['Wavelength of use', `${trimmed(light.wavelength * NM_PER_MM, 6)} nm in air`],
        ...(keepOuts.length === 0
          ? []
          : [
              [
                'Keep-outs',
                keepOuts
                  .map(
                    ({ id, outline, pattern: holds }) =>
                      `${id}: ${placedOutlineText(outline)} mm${holds ? ', another pattern that is not in these data' : ''}`,
                  )
                  .join('; '),
              ] as const,
            ]),
        ...(seats.length === 0 ? [] : [['Seats', `${seatWords(seats)}. Lengths mm.`] as const]),
      ],
    },
    heading('Order of work'),
    { is: 'steps', items: steps(design, files) },
    ...(design.main !== undefined && files !== undefined && !files.main
      ? [
          paragraph(
            'The main pattern stands in the tables and on the drawing, but in no pattern file of this package.',
          ),
        ]
      : []),
  ];
}

function patternCount(design: Design): string {
  const count = design.patches.length;
  const patches = count === 1 ? '1 patch' : `${count} patches`;
  return design.main === undefined ? patches : `the main pattern, ${design.main.id}, and ${patches}`;
}

function steps(design: Design, files: WrittenFiles | undefined): readonly string[] {
  const { process, substrate, seats, keepOuts } = design.scenario;
  const others = keepOuts.filter(({ pattern: holds }) => holds).map(({ id }) => id);
  const together = `${others.length === 0 ? '' : `, with the pattern of keep-out ${others.join(', ')},`} in one exposure, without unloading the blank`;
  const mirrors = substrate.patternFaces === 'interferometer';
  const mirror = !mirrors
    ? 'Do not mirror them.'
    : files?.mirrored
      ? 'The pattern files are mirrored already: do not mirror them again.'
      : 'Mirror them once, x to −x.';
  return [
    'Blank: inspect it by its drawing and by the rows for the blank under “Acceptance on arrival”. Mark the side that gets the pattern.',
    files === undefined
      ? `Data: make them from coefficients.csv and prove them as “Prove the data” says. ${mirror}`
      : `Data: compare the SHA-256 of the pattern files with “Files”, and layers and counts with “Data”. ${mirror}`,
    process.kind === 'etched'
      ? `Pattern: write all patterns${together}.`
      : `Pattern: coat with chrome, then write all patterns${together}.`,
    ETCH[process.tone],
    'Inspection: measure what “Acceptance on arrival” lists, and send the figures with the hologram.',
    ...(seats.length === 0
      ? []
      : [
          'Seats: bond them after the pattern is accepted, then measure each sphere’s centre against the pattern.',
        ]),
  ];
}

const ETCH = {
  'written is etched':
    'Etch: etch the written areas to the depth above, then strip every mask: clear glass is left, and nothing else is etched.',
  'written is clear':
    'Etch or lift: remove the chrome from the written areas. Chrome stays everywhere else, outside the patterns too.',
  'written is opaque':
    'Etch or lift: leave chrome on the written areas only. Remove it everywhere else, outside the patterns too.',
} as const;
