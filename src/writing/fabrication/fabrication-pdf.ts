/** `fabrication.pdf`: the page for the fabricator on A4, in black; a letter that the fonts lack shows as in layout.pdf. */
import { visibleText } from '../../finding/visible-text.ts';
import { trimmed } from '../../quantity/format.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { pdfFile, utf16 } from '../drawing/formats/layout-pdf.ts';
import { fontRuns, runsWidth } from '../drawing/formats/pdf-fonts.ts';
import type { Block } from './blocks.ts';
import type { FabricationDocument } from './document.ts';
import { type Mark, PAPER, TextPages } from './text-pages.ts';

/** Numbers of the objects before the pages': `pdfFile` wants the catalogue first and the description of the file fifth. */
const [PAGES, HELVETICA, SYMBOL, FIRST_PAGE] = [2, 3, 4, 6];

const TITLE = 16;

export function fabricationPdf(document: FabricationDocument): Uint8Array {
  const { title, subject, draft, blocks, foot } = document;
  const set = new TextPages((text) => runsWidth(fontRuns(text)));
  set.lines(shown(title), TITLE);
  for (const block of [{ is: 'paragraph', text: subject } as const, ...blocks]) set.block(visible(block));
  set.margins(shown(draft ? `${DRAFT_WORDS}: ${title}` : title), shown(foot));
  const kids = set.pages.map((_, k) => `${FIRST_PAGE + 2 * k} 0 R`);
  return pdfFile([
    `<< /Type /Catalog /Pages ${PAGES} 0 R /ViewerPreferences << /DisplayDocTitle true >> >>`,
    `<< /Type /Pages /Kids [${kids.join(' ')}] /Count ${kids.length} >>`,
    '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>',
    '<< /Type /Font /Subtype /Type1 /BaseFont /Symbol >>',
    `<< /Title ${utf16(shown(`${title}: fabrication`))} /Producer (datumlight) >>`,
    ...set.pages.flatMap((marks, k) => {
      const content = marks.map(drawn).join('\n');
      return [
        `<< /Type /Page /Parent ${PAGES} 0 R /MediaBox [0 0 ${PAPER.width} ${PAPER.height}] /Contents ${FIRST_PAGE + 2 * k + 1} 0 R /Resources << /Font << /H ${HELVETICA} 0 R /S ${SYMBOL} 0 R >> >> >>`,
        `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
      ];
    }),
  ]);
}

function drawn(mark: Mark): string {
  const y = number(PAPER.height - mark.y);
  if ('thick' in mark)
    return `${number(mark.thick)} w ${number(mark.from)} ${y} m ${number(mark.to)} ${y} l S`;
  const runs = fontRuns(mark.text).map(({ font, bytes }) => `/${font} ${number(mark.size)} Tf <${bytes}> Tj`);
  return `BT ${number(mark.x)} ${y} Td ${runs.join(' ')} ET`;
}

const number = (value: number): string => trimmed(value, 3);

/** With control characters shown, as in the HTML; the minus as a dash, since the minus of Symbol comes out too wide in readers that lack that font. */
const shown = (text: string): string => visibleText(text).replaceAll('\u2212', '\u2013');

function visible(block: Block): Block {
  const row = (cells: readonly string[]): string[] => cells.map(shown);
  switch (block.is) {
    case 'steps':
      return { ...block, items: row(block.items) };
    case 'facts':
      return {
        ...block,
        rows: block.rows.map(([name, value]) => [shown(name), shown(value)] as const),
      };
    case 'table':
      return { ...block, heads: row(block.heads), rows: block.rows.map(row) };
    default:
      return { ...block, text: shown(block.text) };
  }
}
