/**
 * HTML made by template: every value put into `html` is escaped unless it is HTML already, so that no text from a scenario
 * can become markup. Control characters and marks that turn the writing direction are shown as signs.
 */
import { visibleText } from '../../finding/visible-text.ts';

/** Markup that was made here, as against text. */
export class Html {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

export type HtmlValue = string | number | Html | undefined | readonly HtmlValue[];

/** A template whose values are escaped; lists are joined, undefined is nothing. */
export function html(strings: TemplateStringsArray, ...values: readonly HtmlValue[]): Html {
  const parts = strings.map((text, k) => (k < values.length ? text + markup(values[k]) : text));
  return new Html(parts.join(''));
}

/** Markup from elsewhere in the program, such as a drawing; never a text from a scenario. */
export const trusted = (text: string): Html => new Html(text);

/** A whole page, self-contained but for what its body names. */
export const page = (title: string, style: string, body: Html): string =>
  html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${trusted(style)}</style>
</head>
<body>
${body}
</body>
</html>
`.text;

/** A table: a row of heads (with `scope`), then rows; numbers stand to the right where `numeric` has the column. */
export function table(
  heads: readonly HtmlValue[],
  rows: readonly (readonly HtmlValue[])[],
  numeric: readonly number[] = [],
): Html {
  const side = (column: number): Html => trusted(numeric.includes(column) ? ' class="n"' : '');
  return html`<table>
<thead><tr>${heads.map((head, k) => html`<th scope="col"${side(k)}>${head}</th>`)}</tr></thead>
<tbody>
${rows.map((row) => html`<tr>${row.map((cell, k) => html`<td${side(k)}>${cell}</td>`)}</tr>\n`)}</tbody>
</table>`;
}

/** Names and what they stand for, two columns. */
export function facts(rows: readonly (readonly [name: HtmlValue, value: HtmlValue])[]): Html {
  return html`<table class="facts"><tbody>
${rows.map(([name, value]) => html`<tr><th scope="row">${name}</th><td>${value}</td></tr>\n`)}</tbody></table>`;
}

const ENTITIES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text for an element or an attribute: what reads as markup is escaped. */
export const escapedMarkup = (text: string): string =>
  text.replace(/[&<>"']/g, (character) => ENTITIES[character]!);

function markup(value: HtmlValue): string {
  if (value === undefined) return '';
  if (value instanceof Html) return value.text;
  if (Array.isArray(value)) return value.map(markup).join('');
  return escapedMarkup(visibleText(String(value)));
}
