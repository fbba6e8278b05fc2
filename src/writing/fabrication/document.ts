/** The fabricator's page: its blocks in order, the same for `fabrication.html` and `fabrication.pdf`. */
import type { Design } from '../../design/design.ts';
import { conventionLines, DRAFT_WORDS } from '../convention.ts';
import type { FileContent } from '../manifest.ts';
import type { PatternReport } from '../pattern/pattern-files.ts';
import type { Provenance } from '../provenance.ts';
import { acceptance } from './acceptance.ts';
import { type Block, banner, heading, paragraph } from './blocks.ts';
import { dataBlocks, filesTable } from './data.ts';
import { marksBlocks } from './marks.ts';
import { whatToMake } from './what-to-make.ts';

export interface FabricationDocument {
  readonly title: string;
  /** Under the title. */
  readonly subject: string;
  readonly draft: boolean;
  readonly blocks: readonly Block[];
  readonly foot: string;
}

/** `files`: those of the package that the fabricator uses, by name. `pattern`: what report.json says of its pattern files. */
export function fabricationDocument(
  design: Design,
  head: Provenance,
  files: ReadonlyMap<string, FileContent>,
  pattern: PatternReport | undefined,
): FabricationDocument {
  const written = head.patternFiles;
  const title = design.scenario.title || 'Reference patches';
  return {
    title,
    subject: 'For the fabricator: what to make, the data, and what is accepted on arrival.',
    draft: head.draft,
    blocks: [
      ...(head.draft ? [banner(DRAFT_WORDS)] : []),
      ...whatToMake(design, written),
      ...marksBlocks(design, written),
      ...dataBlocks(design, pattern),
      heading('Frame and signs'),
      paragraph(conventionLines(design).join(' ')),
      ...proof(pattern),
      ...acceptance(design),
      ...filesTable(files),
    ],
    foot: `datumlight ${head.version}; scenario SHA-256 ${head.scenarioHash}`,
  };
}

const proof = (pattern: PatternReport | undefined): readonly Block[] => [
  heading('Prove the data'),
  {
    is: 'steps',
    items: [
      'Compute Φ from the table as your software has read it at the points of samples.csv: x_mm, y_mm in, phase_waves out. Each must agree to 0.001 waves. One that differs means a wrong import: mirrored, turned, another sign, a diameter for a radius.',
      'Return the table as CSV. “datumlight check SCENARIO --table TABLE” compares it with the design and names the mistake where one explains the differences.',
      pattern === undefined
        ? 'Of the data that you made, send a picture of one patch with the places of the edges of three written zones. Zones reach from Φ = k to Φ = k plus the duty cycle.'
        : 'Of the pattern files, check with your viewer: top cell, database unit, cells, counts and layers as under “Data”, and the texts on the layer of notes.',
    ],
  },
];
