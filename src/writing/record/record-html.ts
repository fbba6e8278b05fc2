/**
 * `record.html`: the record of an alignment for people, to be printed on A4 or Letter and signed by hand. From record.json alone, so that the
 * page can be made again from it; one page without scripts or anything fetched.
 */
import { visibleText } from '../../finding/visible-text.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../scenario/camera-orientation.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { inertCell } from '../csv.ts';
import { sha256 } from '../manifest.ts';
import { facts, type Html, html, page, table } from '../page/html.ts';
import { axesWords, orientationWords } from '../page/orientation-words.ts';
import { STYLE } from '../page/style.ts';
import type { AlignmentRecord } from './record-form.ts';
import {
  airFacts,
  asideWords,
  changeTable,
  figureFacts,
  numbered,
  placeTable,
  ROUND_TITLES,
  readingsTable,
  referenceTable,
} from './record-tables.ts';
import { sessionSection } from './session-table.ts';

/** Each printed page bears the title and its number; a text in CSS by the code of each character, so that none can end it. */
const styleFor = (title: string): string => `${STYLE}
@page { @bottom-left { content: "${inCss(title)}"; font: 8pt sans-serif; } @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; } }
.hash { font-family: "Liberation Mono", "DejaVu Sans Mono", monospace; font-size: 0.85em; overflow-wrap: anywhere; }
h2 { margin: 4.5mm 0 1.5mm; }
h3 { margin: 3.5mm 0 1mm; }
th, td { padding: 0.5mm 1.6mm; }
section.figures td:first-child, section.session th { white-space: nowrap; }
table.facts th { width: 55mm; }
table.sign td { height: 13mm; }
table.sign { break-inside: avoid; }
section.together { break-inside: avoid; }
section.session table { font-size: 7.5pt; line-height: 1.2; }
section.session th, section.session td { padding: 0.4mm 1mm; }
section.files table { font-size: 7.5pt; line-height: 1.2; }
section.files tbody tr:nth-child(-n+5), section.files tr:nth-last-child(-n+6) { break-before: avoid; }
section.files th, section.files td { padding: 0.2mm 1.6mm; }
`;

const inCss = (text: string): string =>
  [...visibleText(text)]
    .map((character) => `\\${character.codePointAt(0)!.toString(16).padStart(6, '0')}`)
    .join('');

/** The page ends with the SHA-256 of what stands before it, by which a page that was changed is known. */
const MARK = /<!-- datumlight record page: ([0-9a-f]{64}) -->\n$/;

export function recordHtml(record: AlignmentRecord): string {
  const text = wholePage(record);
  return `${text}<!-- datumlight record page: ${sha256(text)} -->\n`;
}

/** Whether a text is such a page as it was written, line ends as LF. */
export function isRecordPage(text: string): boolean {
  const mark = MARK.exec(text);
  return mark !== null && sha256(text.slice(0, mark.index)) === mark[1];
}

function wholePage(record: AlignmentRecord): string {
  const last = record.rounds.at(-1)!;
  const title = `Alignment record, hologram ${record.serial}`;
  return page(
    title,
    styleFor(title),
    html`${record.package.draft ? html`<p class="draft">${DRAFT_WORDS}</p>\n` : ''}<header>
<h1>${title}</h1>
</header>
<main>
${verdict(record)}
${head(record)}
<h2>Place of the part, ${ROUND_TITLES[last.round]}</h2>
${placeTable(last)}
${
  record.changes.length === 0
    ? ''
    : html`<section class="together figures"><h2>Clamping and reseating</h2>
${changeTable(record.changes)}</section>`
}
<h2>Figure of the surface under test</h2>
${figureFacts(record)}
<h2>Air</h2>
${airFacts(record)}
<h2>Order of work</h2>
${workDone(record)}
<h2>Readings</h2>
${readingsTable(record)}
${setAside(record)}${notRead(record)}
${sessionSection(record)}
<section class="together"><h3>References, ${ROUND_TITLES[last.round]}</h3>
${referenceTable(last)}
<p>Displacement of each from its design place in the substrate frame; u: combined standard uncertainty.</p></section>
${
  record.remarks.length === 0
    ? ''
    : html`<h2>Remarks</h2>
<ul>${record.remarks.map((remark) => html`<li>${remark}</li>\n`)}</ul>`
}
<section class="together"><h2>Signatures</h2>
${signatures(record)}</section>
<h2>What this record belongs to</h2>
${belongings(record)}
</main>
<footer>datumlight ${record.version}; record SHA-256 <span class="hash">${record.sha256}</span></footer>`,
  );
}

function verdict({ ok, rounds, deviations, changes }: AlignmentRecord): Html {
  const faults = rounds.flatMap(({ round, findings }) =>
    findings.map(
      ({ severity, message }) =>
        html`<li><span class="${severity}">${severity}</span>, ${ROUND_TITLES[round]}: ${message}</li>\n`,
    ),
  );
  const moved = changes.filter(({ significant }) => significant).map(({ by }) => by);
  const words = [
    ok
      ? 'No reading contradicts another.'
      : 'Readings contradict each other: do not rely on the figures below.',
    moved.length === 0 ? '' : `The part moved at ${moved.join(' and at ')}.`,
    deviations.length === 0
      ? 'The work followed the order of work.'
      : `${deviations.length} deviation${deviations.length === 1 ? '' : 's'} from the order of work, listed below.`,
  ];
  return html`<div class="caution"><p>${words.filter((word) => word !== '').join(' ')}</p>
${faults.length === 0 ? '' : html`<ul>${faults}</ul>`}</div>`;
}

const head = (record: AlignmentRecord): Html =>
  facts([
    ['Hologram, serial number', inertCell(record.serial)],
    ['Part', inertCell(record.part ?? 'not recorded')],
    ['Date', inertCell(record.date)],
    ['Operator', inertCell(record.operator ?? 'not recorded')],
    ['Witness', inertCell(record.witness ?? 'none recorded')],
    ['Camera', cameraWords(record)],
    ['Design', inertCell(record.scenario.title)],
    ['Package, SHA-256 of its manifest', hash(record.package.sha256)],
  ]);

const hash = (text: string): Html => html`<span class="hash">${text}</span>`;

function workDone({ steps, order, deviations }: AlignmentRecord): Html {
  const titles = new Map(order.map(({ kind, title }) => [kind, title]));
  const done =
    steps.length === 0
      ? html`<p>The log names no steps.</p>`
      : table(
          ['Step', 'Time', 'By', 'Note'],
          steps.map(({ step, at, by, note }) =>
            [titles.get(step) ?? step, at ?? '', by ?? '', note ?? ''].map(inertCell),
          ),
        );
  if (deviations.length === 0) return done;
  return html`${done}
<p class="lead">Deviations from the order of work:</p>
<ul>${deviations.map(({ words }) => html`<li>${words}.</li>\n`)}</ul>`;
}

/** Names beyond this are counted. */
const MOST_NAMED = 30;

function notRead({ rounds, numbers }: AlignmentRecord): Html {
  const left = rounds.filter(({ unread }) => unread.length > 0);
  return html`${left.map(({ round, unread }) => {
    const more = unread.length > MOST_NAMED ? ` and ${unread.length - MOST_NAMED} more` : '';
    return html`<p>Not read ${ROUND_TITLES[round]}: ${unread
      .slice(0, MOST_NAMED)
      .map((id) => numbered(id, numbers))
      .join(', ')}${more}.</p>\n`;
  })}`;
}

function setAside({ rounds, numbers }: AlignmentRecord): Html {
  const affected = rounds.filter(({ setAside: aside = [] }) => aside.length > 0);
  return html`${affected.map(
    ({ round, setAside: aside = [] }) =>
      html`<p>Set aside ${ROUND_TITLES[round]}, the place is from the other readings: ${asideWords(aside, numbers)}.</p>\n`,
  )}`;
}

/** As each round’s readings were taken, said once where all were taken alike. */
function cameraWords({ rounds }: AlignmentRecord): string {
  const ways = rounds.map(({ round, given: { camera } }) => {
    const orientation = { ...PLAIN_ORIENTATION, ...(camera as Partial<CameraOrientation>) };
    return { round, words: `${orientationWords(orientation)}: ${axesWords(orientation)}` };
  });
  return ways.every(({ words }) => words === ways[0]!.words)
    ? ways[0]!.words
    : ways.map(({ round, words }) => `${ROUND_TITLES[round]} ${words}`).join('; ');
}

const signatures = ({ operator, witness }: AlignmentRecord): Html =>
  html`<table class="sign">
<thead><tr><th scope="col"></th><th scope="col">Name</th><th scope="col">Signature</th><th scope="col">Date</th></tr></thead>
<tbody>
<tr><th scope="row">Operator</th><td>${inertCell(operator ?? '')}</td><td></td><td></td></tr>
<tr><th scope="row">Witness</th><td>${inertCell(witness ?? '')}</td><td></td><td></td></tr>
<tr><th scope="row">Approved</th><td></td><td></td><td></td></tr>
</tbody></table>`;

function belongings({ scenario, package: own }: AlignmentRecord): Html {
  const rows = [
    ['Scenario', hash(scenario.sha256)],
    ...Object.entries(scenario.files).map(([name, file]) => [inertCell(name), hash(file.sha256)]),
    ['manifest.json', hash(own.sha256)],
    ...Object.entries(own.files).map(([name, file]) => [inertCell(name), hash(file.sha256)]),
  ];
  return html`<p>SHA-256 of the scenario and of each file of the package, worked out when this record was made. <code>datumlight record SCENARIO --check record.json --package DIR</code>
checks that the record, its package and its figures still belong together. The package was written by datumlight ${own.version}.</p>
<section class="files">${table(['File', 'SHA-256'], rows)}</section>`;
}
