/**
 * The table of readings: what each patch shows when it is done, how far it may change after clamping and after reseating, and room to write.
 * Fringes; in the order of work.
 */
import type { Design } from '../../design/design.ts';
import { significant } from '../page/figures.ts';
import { type Html, html, table } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';
import type { ReportedCriterion, ReportedStep } from '../report/reported-order.ts';

export function readingsTable({ patches }: Design, { order, patches: reported }: Report): Html {
  const number = new Map(patches.map(({ id }, k) => [id, k + 1]));
  const shape = new Map(reported.map(({ id, bias }) => [id, bias.shape]));
  const changes = (kind: ReportedStep['kind']) =>
    new Map(
      order
        .filter((step) => step.kind === kind)
        .flatMap(({ done }) => done.filter(inFringes).map(({ of, within }) => [of, within] as const)),
    );
  const [clamped, reseated] = [changes('clamp'), changes('reseat')];
  const done = new Map(
    order.flatMap((step) =>
      step.done.filter(({ quantity }) => quantity === 'fringes').map((each) => [each.of, each] as const),
    ),
  );
  const rows = [...clamped].map(([id, change]) => {
    const wanted = done.get(id);
    return [
      number.get(id) ?? '',
      id,
      wanted === undefined ? fewWords(done.get('beam')) : shownWords(wanted, shape.get(id)),
      '',
      `±${significant(change, 2)}`,
      '',
      reseated.has(id) ? `±${significant(reseated.get(id), 2)}` : '',
      '',
    ];
  });
  if (rows.length === 0) return html``;
  return html`<p class="lead">Table of readings, fringes: what each patch shows when it is done, and by how much it may have changed after clamping and after reseating.</p>
${table(['No.', 'Patch', 'Done when it shows', 'Read', 'Clamped', 'Read', 'Reseated', 'Read'], rows, [0])}`;
}

const inFringes = ({ unit }: ReportedCriterion): boolean => unit === 'fringes';

/** Of a ring without a bias. */
const fewWords = (beam: ReportedCriterion | undefined): string =>
  beam === undefined ? 'few' : `at most ${significant(beam.within, 2)}, straight`;

function shownWords({ value, within }: ReportedCriterion, shape: string | undefined): string {
  const limit = `± ${significant(within)}`;
  if (value === 0) return `uniform, 0 ${limit}`;
  return shape === 'roof'
    ? `${significant(value)} ${limit}, straight through both halves`
    : `${significant(value)} ${limit}, straight`;
}
