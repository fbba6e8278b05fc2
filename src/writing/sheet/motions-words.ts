/** For the bench: motions of the part that the measured figure hardly shows, and motions whose errors look alike in it. */
import { trimmed } from '../../quantity/format.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { withMinus, withMinusSigns } from '../page/figures.ts';
import { type Html, html, table } from '../page/html.ts';
import { nmWords, type ReportedTest } from '../report/reported-test.ts';

export const motionsWords = (
  test: ReportedTest,
): Html => html`<p>motions.svg shows what each motion of part and hologram leaves in the measured figure; motions.csv is the table.</p>
${hiddenWords(test)}${alikeTable(test)}`;

/** What only the patches can tell of the part's place. */
function hiddenWords({ hidden }: ReportedTest): Html | string {
  if (hidden.length === 0) return '';
  const each = hidden.map(({ words, unit, left_nm }) => {
    const left = left_nm < LEAST_SAID ? 'nothing' : `${nmWords(left_nm)} rms`;
    return html`<li>${withMinusSigns(words)}: leaves ${left} for 1 ${unit === 'um' ? 'µm' : 'µrad'}</li>\n`;
  });
  return html`<p>The measured figure hardly shows these motions of the part; only the patches can:</p>
<ul>
${each}</ul>
`;
}

/** nm: less is rounding. */
const LEAST_SAID = 1e-6;

/** Degrees whose misalignment looks the same in the measured figure. */
function alikeTable({ alike }: ReportedTest): Html | string {
  if (alike.length === 0) return '';
  const rows = ['part', 'hologram']
    .flatMap((of) => DEGREES.map((degree) => `${of} ${degree}`))
    .map((name) => {
      const like = alike.flatMap(({ one, other, correlation }) =>
        one === name || other === name
          ? [`${one === name ? other : one} (${withMinus(trimmed(correlation, 3))})`]
          : [],
      );
      return [name, like.join(', ')];
    })
    .filter(([, like]) => like !== '');
  return html`<p>Motions whose errors look alike in the measured figure, with the correlation of their maps: at −1 one is the other turned over.</p>
${table(['motion of', 'looks like that of'], rows)}
`;
}
