/** `fabrication.html`: the page for the fabricator, self-contained, without scripts, to be printed on A4 or Letter. */
import { DRAFT_WORDS } from '../convention.ts';
import { facts, type Html, type HtmlValue, html, page, table } from '../page/html.ts';
import { STYLE, titleInMargin } from '../page/style.ts';
import type { Block } from './blocks.ts';
import type { FabricationDocument } from './document.ts';

/** A hash stands on one line; what introduces a table stays with it, and the last step with the one before. */
const OWN_STYLE = `
main > p:has(+ table), main > p:has(+ div.whole) { break-after: avoid; }
main > ol > li:last-child { break-before: avoid; }
main > ol > li { break-inside: avoid; }
main table { font-size: 8.5pt; }
.hash { font-family: "Liberation Mono", "DejaVu Sans Mono", Consolas, monospace; font-size: 6.5pt; white-space: nowrap; }
`;

export function fabricationHtml({ title, subject, draft, blocks, foot }: FabricationDocument): string {
  return page(
    `${title}: fabrication`,
    STYLE + OWN_STYLE + titleInMargin(draft ? `${DRAFT_WORDS}: ${title}` : title),
    html`<header>
<h1>${title}</h1>
<p>${subject}</p>
</header>
<main>
${blocks.map((block) => html`${rendered(block)}\n`)}</main>
<footer>${foot}</footer>`,
  );
}

function rendered(block: Block): Html {
  switch (block.is) {
    case 'heading':
      return html`<h2>${block.text}</h2>`;
    case 'paragraph':
      return html`<p>${block.text}</p>`;
    case 'banner':
      return html`<p class="draft">${block.text}</p>`;
    case 'steps':
      return html`<ol>${block.items.map((item) => html`<li>${item}</li>\n`)}</ol>`;
    case 'facts':
      return facts(block.rows);
    case 'table': {
      const rows = block.rows.map((row) => row.map(cellOf));
      const set = table(block.heads, rows, block.numeric);
      return rows.length > MOST_ROWS_WHOLE ? set : html`<div class="whole">${set}</div>`;
    }
  }
}

/** Hashes and short names, such as of files, are not broken. */
function cellOf(text: string, column: number): HtmlValue {
  if (HASH.test(text)) return html`<span class="hash">${text}</span>`;
  return column === 0 && SHORT_NAME.test(text) ? html`<span class="name">${text}</span>` : text;
}

/** A table of so many rows is not divided between pages. */
const MOST_ROWS_WHOLE = 10;

const HASH = /^[0-9a-f]{64}$/;
const SHORT_NAME = /^\S{1,20}$/;
