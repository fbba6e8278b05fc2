/** Drawings made elsewhere, put into the page: scaled to its width, with ids of their own. */
import type { BenchDrawing } from '../bench/bench-svg.ts';
import { type Html, html, trusted } from '../page/html.ts';

/**
 * The SVG document as an element of a page. Its ids, and what refers to them, get the prefix; its size in mm goes, so that the page
 * scales it. Texts in it are escaped by its writer, so that a quote in it ends an attribute and nothing else.
 */
export function drawingFigure(svg: string, prefix: string, caption: string): Html {
  const element = svg
    .replace(/^<\?xml[^>]*\?>\s*/, '')
    .replace(/(<svg\b[^>]*?) width="[^"]*" height="[^"]*"/, '$1')
    .replace(/ id="/g, ` id="${prefix}`)
    .replace(/ aria-labelledby="([^"]*)"/g, (_, ids: string) => {
      return ` aria-labelledby="${ids
        .split(' ')
        .map((id) => prefix + id)
        .join(' ')}"`;
    })
    .trimEnd();
  return html`<figure class="drawing">${trusted(element)}<figcaption>${caption}</figcaption></figure>`;
}

/** The bench, a figure for each row of views, so that a printed page breaks between them and none is left half empty. */
export function benchFigures({ strips, words }: BenchDrawing): Html {
  return html`<p>${words.join(' ')}</p>
<p class="lead">Scales hold for bench.svg printed at full size; here use the bars and rulers.</p>
${strips.map((strip) => html`<figure class="bench">${strip}</figure>\n`)}`;
}
