/** The record of a job whose references stand on mounts of their own, and the page: self-contained, its texts inert, only what the record says. */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { steeredRound } from '../../../src/metrology/alignment/rounds.ts';
import type { AlignmentLog } from '../../../src/scenario/alignment-log.ts';
import type { BenchReading } from '../../../src/scenario/bench-reading.ts';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import type { RoundName } from '../../../src/scenario/round-name.ts';
import { alignmentRecord } from '../../../src/writing/record/alignment-record.ts';
import { differingFigures } from '../../../src/writing/record/differing-figures.ts';
import type { AlignmentRecord } from '../../../src/writing/record/record-form.ts';
import { recordHtml } from '../../../src/writing/record/record-html.ts';
import { workOrder } from '../../../src/writing/record/work-order.ts';
import { exampleDesign } from '../../metrology/support/bench.ts';
import '../../machine/patience.ts';

const accepts = new Ajv2020.default({ allErrors: true, strict: true, allowUnionTypes: true }).compile(
  JSON.parse(readFileSync('schemas/record.schema.json', 'utf8')),
);
const design = exampleDesign('transfer-mirror-on-rim');
const tower = design.patches.filter(({ reference }) => reference.id === 'tower-1');
const NOTHING = { part: undefined, witness: undefined, temperature: undefined, pressure: undefined };

function recordOf(
  serial: string,
  draft: boolean,
  rounds: readonly RoundName[] = ['before'],
): AlignmentRecord {
  const readings = tower.map(({ id }): BenchReading => {
    return { kind: 'fringes', patch: id, fringes: [0.3], signKnown: true, uncertainty: undefined };
  });
  const given = { readings: tower.map(({ id }) => ({ patch: id, fringes: 0.3 })) };
  const log: AlignmentLog = {
    ...{ ...NOTHING, serial, date: '2026-01-31', operator: serial, remarks: [serial], steps: [] },
    rounds: rounds.map((round) => ({ round, file: undefined, readings, camera: PLAIN_ORIENTATION, given })),
  };
  const hash = 'a'.repeat(64);
  const own = { sha256: hash, version: '1', draft, files: {} };
  const head = {
    version: '1',
    serial,
    scenarioHash: hash,
    named: new Map(),
    package: own,
    order: workOrder(design),
  };
  const steered = log.rounds.map((one) => steeredRound(design, one.readings));
  return alignmentRecord(design, log, steered, head);
}

test('references on mounts of their own have places, the part has none, and nothing of it is said to have changed', () => {
  const record = recordOf('H-1', false, ['before', 'clamped']);
  expect(accepts(record) ? [] : accepts.errors).toEqual([]);
  expect(record).toMatchObject({ changes: [], figure: null, ok: true, final: 'clamped' });
  expect(record.rounds[1]).toMatchObject({ place: null, references: [{ id: 'tower-1' }] });
  expect(record.rounds[1]!.unread).toContain('tower-2-x');
  expect(record.rounds[1]!.unread).not.toContain('tower-1-x');
  const page = recordHtml(record);
  expect(page).toContain('they say nothing of its place');
  expect(page).not.toContain('Clamping and reseating');
});

test('the page needs nothing from elsewhere, and a serial number can neither leave its element nor its style', () => {
  const serial = `"} </style><script>alert(7)</script> \\2022 '</td>`;
  const page = recordHtml(recordOf(serial, true));
  expect(page).not.toMatch(/<script|src=|href=|url\(|@import/i);
  expect(page.match(/<\/style>/g)).toHaveLength(1);
  expect(page).toContain('&lt;script&gt;alert(7)');
  // In the style each character of it stands by its code.
  const [style] = page.split('</style>');
  expect(style).toMatch(/@bottom-left \{ content: "(\\[0-9a-f]{6})+"; /);
  expect(page).toContain('NOT FOR FABRICATION');
  expect(recordHtml(recordOf('H-1', false))).not.toContain('NOT FOR FABRICATION');
  for (const row of ['Operator', 'Witness', 'Approved'])
    expect(page).toMatch(new RegExp(`<tr><th scope="row">${row}</th>.*<td></td><td></td></tr>`));
});

test('figures differ beyond rounding, by their paths; words do not count', () => {
  const one = { a: [1, { b: 100, message: 'x' }], c: 'yes', d: null };
  const other = (changed: object) => differingFigures(one, { ...one, ...changed });
  expect(other({})).toEqual([]);
  expect(other({ a: [1 + 5e-6, { b: 100.00009, message: 'y' }] })).toEqual([]);
  expect(other({ a: [1.0001, { b: 100.001, message: 'x' }] })).toEqual(['a[0]', 'a[1].b']);
  expect(other({ c: 'no', d: 0, e: 1 })).toEqual(['c', 'd', 'e']);
  expect(other({ a: [1] })).toEqual(['a[1]']);
});

test('a log is held against the design’s own order of work, step by step', () => {
  const order = workOrder(design);
  expect(order.map(({ kind }) => kind)).toEqual(
    expect.arrayContaining(['mount', 'tracker', 'clamp', 'reseat']),
  );
  const left = recordOf('H-1', false).deviations.map(({ step }) => step);
  expect(left).toEqual([...new Set(order.map(({ kind }) => kind)), 'clamped', 'reseated']);
});
