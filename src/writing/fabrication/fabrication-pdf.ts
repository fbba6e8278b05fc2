/** `fabrication.pdf`: the page for the fabricator on A4, in black; a letter that the fonts lack shows as in layout.pdf. */
import { visibleText } from '../../finding/visible-text.ts';
import { trimmed } from '../../quantity/format.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { pdfFile, utf16 } from '../drawing/formats/layout-pdf.ts';
import { PdfLettering, trueTypeOf } from '../drawing/formats/pdf-fonts.ts';
import type { Block } from './blocks.ts';
import type { FabricationDocument } from './document.ts';
import { type Mark, PAPER, TextPages } from './text-pages.ts';

/** Numbers of the objects before the pages': `pdfFile` wants the catalogue first and the description of the file fifth. */
const [PAGES, RESOURCES, VIEWER, FONT, FIRST_PAGE] = [2, 3, 4, 6, 11];

const TITLE = 16;

/** `font`: the TrueType font's bytes. */
export function fabricationPdf(document: FabricationDocument, font: Uint8Array): Uint8Array {
  const { title, subject, draft, blocks, foot } = document;
  const lettering = new PdfLettering(trueTypeOf(font));
  const set = new TextPages((text) => lettering.width(text));
  set.lines(visibleText(title), TITLE);
  for (const block of [{ is: 'paragraph', text: subject } as const, ...blocks]) set.block(visible(block));
  set.margins(visibleText(draft ? `${DRAFT_WORDS}: ${title}` : title), visibleText(foot));
  const kids = set.pages.map((_, k) => `${FIRST_PAGE + 2 * k} 0 R`);
  const pages = set.pages.flatMap((marks, k) => {
    const content = marks.map((mark) => drawn(mark, lettering)).join('\n');
    return [
      `<< /Type /Page /Parent ${PAGES} 0 R /MediaBox [0 0 ${PAPER.width} ${PAPER.height}] /Contents ${FIRST_PAGE + 2 * k + 1} 0 R /Resources ${RESOURCES} 0 R >>`,
      `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
    ];
  });
  return pdfFile([
    `<< /Type /Catalog /Pages ${PAGES} 0 R /ViewerPreferences ${VIEWER} 0 R >>`,
    `<< /Type /Pages /Kids [${kids.join(' ')}] /Count ${kids.length} >>`,
    `<< /Font << /F ${FONT} 0 R >> >>`,
    '<< /DisplayDocTitle true >>',
    `<< /Title ${utf16(visibleText(`${title}: fabrication`))} /Producer (datumlight) >>`,
    ...lettering.objects(FONT),
    ...pages,
  ]);
}

function drawn(mark: Mark, lettering: PdfLettering): string {
  const y = number(PAPER.height - mark.y);
  if ('thick' in mark)
    return `${number(mark.thick)} w ${number(mark.from)} ${y} m ${number(mark.to)} ${y} l S`;
  return `BT ${number(mark.x)} ${y} Td /F ${number(mark.size)} Tf <${lettering.codes(mark.text)}> Tj ET`;
}

const number = (value: number): string => trimmed(value, 3);

/** With control characters shown, as in the HTML. */
function visible(block: Block): Block {
  const row = (cells: readonly string[]): string[] => cells.map((cell) => visibleText(cell));
  switch (block.is) {
    case 'steps':
      return { ...block, items: row(block.items) };
    case 'facts':
      return {
        ...block,
        rows: block.rows.map(([name, value]) => [visibleText(name), visibleText(value)] as const),
      };
    case 'table':
      return { ...block, heads: row(block.heads), rows: block.rows.map(row) };
    default:
      return { ...block, text: visibleText(block.text) };
  }
}
