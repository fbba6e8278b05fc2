/**
 * The sheet's looks, on a screen and on A4 or Letter: one column as wide as the narrower of the two papers' printed area, black on
 * white, tables that break between rows and repeat their heads. No fonts, images or scripts from elsewhere.
 */
import { visibleText } from '../../finding/visible-text.ts';
import { AMBER_INK, FACT_FILL, HEAD_FILL, INK, QUIET_INK, RED, RULE } from '../palette.ts';

const FONTS = '"Liberation Sans", Arial, Helvetica, "DejaVu Sans", sans-serif';

export const STYLE = `
@page {
  margin: 15mm 13mm 16mm;
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt ${FONTS}; color: ${QUIET_INK}; }
}
* { box-sizing: border-box; }
html { background: #fff; color: ${INK}; }
body { margin: 0 auto; padding: 6mm 4mm; max-width: 190mm; font: 10pt/1.4 ${FONTS}; overflow-wrap: break-word; }
h1 { font-size: 17pt; line-height: 1.2; margin: 0 0 2mm; }
h2 { font-size: 13pt; margin: 7mm 0 2mm; padding-top: 1.5mm; border-top: 0.5mm solid ${INK}; }
h3 { font-size: 11pt; margin: 5mm 0 1.5mm; }
h1, h2, h3 { break-after: avoid; }
p { margin: 1.5mm 0; orphans: 3; widows: 3; }
ul, ol { margin: 1.5mm 0; padding-left: 6mm; }
li { margin: 0.8mm 0; break-inside: avoid; }
main > ol > li { break-inside: auto; }
table { border-collapse: collapse; width: 100%; margin: 2mm 0 3mm; font-size: 9pt; }
thead { display: table-header-group; break-inside: avoid; break-after: avoid; }
tbody tr:first-child { break-before: avoid; }
table:not(.facts) tbody tr:nth-child(-n+2), table:not(.facts) tbody tr:last-child { break-before: avoid; }
.name { white-space: nowrap; }
tr { break-inside: avoid; }
th, td { border: 0.2mm solid ${RULE}; padding: 0.9mm 1.6mm; text-align: left; vertical-align: top; }
thead th { background: ${HEAD_FILL}; font-weight: 600; }
td { overflow-wrap: anywhere; }
th.n, td.n { text-align: right; font-variant-numeric: tabular-nums; }
td.n { white-space: nowrap; overflow-wrap: normal; }
table.facts th { width: 40mm; background: ${FACT_FILL}; font-weight: 600; }
section.patch { break-inside: avoid; }
section.tall { break-inside: auto; }
section.patch table { margin: 1.5mm 0; }
section.patch h3 { margin-top: 2.5mm; }
figure { margin: 2mm 0; break-inside: avoid; }
figure > svg { display: block; width: 100%; height: auto; max-height: 240mm; border: 0.2mm solid ${RULE}; }
figure.view { display: flex; flex-wrap: wrap; gap: 2mm 4mm; align-items: flex-end; }
figure.view > svg { flex: 1 1 90mm; max-width: 105mm; max-height: 76mm; }
figure.view > figcaption { flex: 1 1 50mm; }
figure.bench { margin: 0; }
figure.bench:last-of-type { break-before: avoid; }
figure.bench > svg { max-height: 78mm; border: 0; }
figure.strip { max-width: 112mm; }
figure.strip.six { max-width: 128mm; }
div.seen:not(:last-child) { break-after: avoid; }
div.seen { break-inside: avoid; display: flex; flex-wrap: wrap; gap: 1mm 4mm; }
div.seen > figure { flex: 1 1 90mm; }
div.seen > p.small { flex: 1 1 50mm; margin: 0; }
section.patch div.seen + table { margin: 1mm 0 2mm; font-size: 8.2pt; line-height: 1.25; }
div.seen + table.facts th { width: 27mm; }
div.seen > figure.strip { margin: 0; }
ul.key { list-style: none; margin: 1mm 0 3mm; padding: 0; columns: 40mm auto; font-size: 8.5pt; overflow-wrap: anywhere; }
ul.key li { margin: 0; }
figure.strip img { display: block; width: 100%; height: auto; border: 0.2mm solid ${RULE}; }
figure.strip ol { display: flex; list-style: none; margin: 1mm 0 0; padding: 0; font-size: 8pt; line-height: 1.25; }
div.seen > figure.strip ol { font-size: 7.8pt; line-height: 1.2; }
figure.strip li { flex: 1 1 0; min-width: 0; padding-right: 1mm; margin: 0; }
td > p { margin: 0 0 0.8mm; }
td > p:last-child { margin: 0; }
p.lead { break-after: avoid; }
p.small { font-size: 8.5pt; line-height: 1.3; }
.term { padding-left: 3mm; }
code { font-family: "Liberation Mono", "DejaVu Sans Mono", monospace; font-size: 0.92em; }
figcaption { font-size: 8.5pt; color: ${QUIET_INK}; margin-top: 1mm; }
.draft { border: 0.8mm solid ${RED}; color: ${RED}; font-weight: 700; font-size: 15pt; text-align: center; padding: 2mm; margin: 0 0 4mm; letter-spacing: 0.05em; }
.caution { border: 0.6mm solid ${INK}; padding: 1mm 3mm; margin: 3mm 0; break-inside: avoid; }
.error { color: ${RED}; font-weight: 600; }
.warning { color: ${AMBER_INK}; font-weight: 600; }
footer { margin-top: 5mm; padding-top: 1.5mm; border-top: 0.2mm solid ${RULE}; font-size: 8pt; color: ${QUIET_INK}; }
@media print {
  body { padding: 0; max-width: 184mm; }
  figure.drawing > svg { max-height: 66mm; border: 0; }
  header, div.whole { break-inside: avoid; }
  html, body, table, th { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
`;

/** CSS that repeats the title at the head of each printed page, beside the number at its foot; whatever the title has in it. */
export function titleInMargin(title: string): string {
  const letters = [...visibleText(title)];
  const short = letters.length > MOST_IN_MARGIN ? [...letters.slice(0, MOST_IN_MARGIN - 1), '…'] : letters;
  const text = short
    .map((letter) => (/[A-Za-z0-9 ]/.test(letter) ? letter : `\\${letter.codePointAt(0)!.toString(16)} `))
    .join('');
  return `@page { @top-left { content: "${text}"; font: 8pt ${FONTS}; color: ${QUIET_INK}; white-space: nowrap; } }\n`;
}

/** Letters of 8 pt: of capitals W, which are the widest, as many as the narrower of the two papers has room for in a line. */
const MOST_IN_MARGIN = 65;
