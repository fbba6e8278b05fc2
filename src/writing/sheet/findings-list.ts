/** The findings of the design check, errors first as the rules gave them. */

import { withMinusSigns } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';

export function findingsList({ findings }: Report): Html {
  if (findings.length === 0) return html`<p>Design check: no errors or warnings.</p>`;
  return html`<ul>
${findings.map(
  ({ severity, rule, where, message, hint }) =>
    html`<li><span class="${severity}">${severity}</span> ${rule}, ${where}: ${withMinusSigns(message)}${hint === undefined ? '' : ` (${withMinusSigns(hint)})`}</li>\n`,
)}</ul>`;
}
