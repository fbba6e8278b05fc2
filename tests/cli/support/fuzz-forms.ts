/**
 * The form of each document that `--json` prints, as JSON Schema (draft 2020-12), for ajv. Reports, refusals and readings from frames by the
 * schemas that ship; of the others what a program that reads them needs. A figure that must be known is a number: what is NaN inside is null outside.
 */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import type { Use } from './fuzz-asked.ts';

type Schema = Readonly<Record<string, unknown>>;
const report = JSON.parse(readFileSync('schemas/report.schema.json', 'utf8')) as Schema;
const recordSchema = JSON.parse(readFileSync('schemas/record.schema.json', 'utf8')) as Schema;
const readSchema = JSON.parse(readFileSync('schemas/read.schema.json', 'utf8')) as Schema;
const ref = (name: string): Schema => ({ $ref: `${report.$id}#/$defs/${name}` });
const number: Schema = { type: 'number' };
const text: Schema = { type: 'string' };
const truth: Schema = { type: 'boolean' };
const orNull = (schema: Schema): Schema => ({ anyOf: [schema, { type: 'null' }] });
const listOf = (items: Schema): Schema => ({ type: 'array', items });
/** Keys that must be there, others beside them; a name that ends in `?` may be missing. */
function keys(properties: Readonly<Record<string, Schema>>): Schema {
  const entries = Object.entries(properties);
  return {
    type: 'object',
    properties: Object.fromEntries(entries.map(([key, schema]) => [key.replace('?', ''), schema])),
    required: entries.flatMap(([key]) => (key.endsWith('?') ? [] : [key])),
  };
}
const each = (schema: Schema): Schema => ({ type: 'object', additionalProperties: schema });
const findings = listOf(ref('finding'));
const xyz = keys({ x: number, y: number, z: number });
const turns = keys({ rx: number, ry: number, rz: number });
const consistency = keys({
  chiSquared: number,
  degreesOfFreedom: { type: 'integer' },
  probability: orNull(number),
  contradictory: truth,
});
const screws = listOf(keys({ id: text, turns: number, 'sigma_turns?': orNull(number) }));
const move = { 'move_um?': orNull(xyz), 'move_urad?': orNull(turns) };

const candidate = keys({ signs: each(text), ...move, exact: truth, consistency });
const steered = {
  ...move,
  'signs?': each(text),
  exact: orNull(truth),
  consistency: orNull(consistency),
  candidates: listOf(candidate),
  unobserved: listOf(text),
  trial: orNull({ type: 'object' }),
};
const readings = listOf(
  keys({
    name: text,
    direction: { type: 'array' },
    'fringes?': number,
    'residual_fringes?': orNull(number),
    'deviation_um?': number,
    'residual_um?': orNull(number),
    normalised: orNull(number),
  }),
);
const steering = keys({
  format: { const: 'datumlight-steering/1' },
  ok: truth,
  convention: text,
  findings,
  'hologram?': keys({
    frame: text,
    about: text,
    units: { type: 'object' },
    move_um: orNull(xyz),
    move_urad: orNull(turns),
    insteadByShift_um: orNull(xyz),
    sigma: each(orNull(number)),
    notTold: listOf(text),
    candidates: listOf(candidate),
    readings,
    trial: orNull({ type: 'object' }),
  }),
  references: listOf(
    keys({
      id: text,
      at: { type: 'array' },
      ...steered,
      sigma_um: each(orNull(number)),
      combined_um: each(orNull(number)),
      readings,
    }),
  ),
  unread: listOf(text),
  part: keys({
    frame: text,
    about: text,
    units: { type: 'object' },
    ...steered,
    sigma: each(orNull(number)),
    combined: each(orNull(number)),
    freeMotions: { type: 'array' },
  }),
  'stage?': screws,
  'stageLeaves?': keys(move),
  setAside: listOf(keys({ reading: text, why: { enum: ['beyond range', 'suspect', 'contradicts'] } })),
  suggestions: listOf(keys({ kind: text, readings: listOf(text), probability: number, words: text })),
  step: keys({
    ...{ fraction: number, reason: orNull(text), reading: orNull(text) },
    part: orNull(keys(move)),
    references: each(keys({ move_um: xyz })),
    'screws?': each(number),
    leftOut: orNull(keys(move)),
  }),
  done: truth,
  settled: listOf(text),
  atRest: listOf(text),
  left: listOf(keys({ name: text, normalised: orNull(number), suspect: truth })),
  readings: text,
  'frames?': { $ref: `${readSchema.$id}#/$defs/frames` },
});

const registration = keys({
  substrateToTracker: keys({ rotation: listOf({}), translation_mm: listOf(number) }),
  sigma: each(number),
  combined: each(number),
  points: listOf(keys({ point: text, residual_um: xyz, probability: orNull(number) })),
  outliers: listOf(text),
  consistency,
});
const pointTable = keys({
  separator: { enum: ['comma', 'semicolon', 'tab', 'blanks'] },
  decimal: { enum: ['point', 'comma'] },
  coordinates: { enum: ['cartesian', 'spherical'] },
  columns: listOf(keys({ column: text, holds: text, unit: orNull(text), unitFrom: orNull(text) })),
  verticalAnglesFrom: { enum: ['horizon', 'zenith', null] },
  left: listOf(text),
  linesPassedOver: listOf(number),
  renamed: listOf(keys({ written: text, point: text })),
});
const transfer = keys({
  format: { const: 'datumlight-transfer/1' },
  ok: truth,
  findings,
  table: pointTable,
  repeated: listOf(keys({ point: text, count: number, scatter_um: xyz, probability: orNull(number) })),
  registrations: keys({ hologram: orNull(registration), part: orNull(registration) }),
  referencesInTracker: listOf(keys({ id: text, at_mm: listOf(number) })),
  part: orNull(
    keys({
      frame: text,
      about: text,
      units: { type: 'object' },
      error_um: xyz,
      error_urad: turns,
      move_um: xyz,
      move_urad: turns,
      sigma: each(number),
      combined: each(number),
      covariance: listOf(listOf(number)),
    }),
  ),
  'stage?': screws,
  'stageLeaves?': keys(move),
  points: text,
});

const recorded = keys({
  format: { const: 'datumlight-recorded/1' },
  ok: truth,
  file: text,
  written: text,
  findings,
  record: { $ref: recordSchema.$id },
});
const rechecked = keys({
  format: { const: 'datumlight-record-check/1' },
  ok: truth,
  file: text,
  serial: text,
  sha256: text,
  findings,
});

const explanation = keys({
  steps: listOf(text),
  words: listOf(text),
  left_waves: number,
  factor: orNull(number),
});
const table = keys({
  ok: truth,
  bound_waves: number,
  misread: listOf(explanation),
  patches: listOf(
    keys({
      id: text,
      same: truth,
      present: truth,
      lacks: listOf(text),
      order: number,
      orderAndPhaseNegated: truth,
      misread: listOf(explanation),
      bases: listOf(
        keys({
          basis: text,
          same: truth,
          worst_waves: number,
          worstAt_mm: listOf(number),
          rounded: truth,
          misread: listOf(explanation),
        }),
      ),
    }),
  ),
  findings,
  file: text,
  table: text,
});

const plan = keys({
  ok: truth,
  file: text,
  written: text,
  worst: orNull(number),
  'figure_nm?': keys({ expected: orNull(number), allowed: number }),
  glass_mm2: number,
  patches: listOf(keys({ id: text, reference: text, centre: listOf(number) })),
  unused: listOf(text),
  reasons: listOf(text),
  stopped: truth,
  findings,
  'scenario?': text,
});
const orientation = {
  view: { enum: ['interferometer', 'part'] },
  turned: { enum: [0, 90, 180, 270] },
  mirrored: truth,
};
const pictures = keys({
  format: { const: 'datumlight-fringes/1' },
  file: text,
  scenario: keys({ sha256: text }),
  orientation: keys(orientation),
  diffraction: truth,
  camera: truth,
  written: text,
  pictures: listOf(
    keys({
      file: text,
      patch: orNull(text),
      state: text,
      displacement_um: orNull(xyz),
      fringesAlongSenses: {},
      'motion?': { type: 'object' },
    }),
  ),
  'frames?': listOf(keys({ file: text, pixels: { type: 'integer' }, at: orNull(text) })),
});
const phase = keys({
  patch: text,
  order: { type: 'integer' },
  points: listOf(keys({ x_mm: number, y_mm: number, phase_waves: number, period_um: orNull(number) })),
});
const OUTCOMES = { enum: ['fine', 'broken', 'unusable', 'fault'] };
const summary: Schema = {
  type: 'object',
  properties: {
    format: { const: 'datumlight-batch/1' },
    ok: truth,
    total: { type: 'integer' },
    rows: listOf({
      type: 'object',
      properties: { index: { type: 'integer' }, name: text, file: text, outcome: OUTCOMES, written: truth },
      required: [
        'index',
        'name',
        'file',
        'case',
        'outcome',
        'written',
        'parameters',
        'errors',
        'rules',
        'says',
      ],
    }),
  },
  required: ['format', 'ok', 'total', 'rows'],
};
const verified: Schema = {
  type: 'object',
  properties: {
    ok: truth,
    compared: { type: 'integer' },
    differences: { type: 'array' },
    rows: { type: 'array' },
  },
  required: ['ok', 'compared', 'differences', 'rows'],
};

const ajv = new Ajv2020.default({ strict: true, strictRequired: false, allowUnionTypes: true })
  .addSchema(report)
  .addSchema(recordSchema)
  .addSchema(readSchema);
const FORMS: Readonly<Partial<Record<Use, Schema>>> = {
  check: ref('report'),
  make: ref('report'),
  draft: ref('report'),
  plan,
  fringes: pictures,
  steer: steering,
  read: { $ref: `${readSchema.$id}#/$defs/read` },
  transfer,
  record: recorded,
  recheck: rechecked,
  phase,
  table,
  batch: summary,
  gather: summary,
  verify: verified,
};
const checks = Object.fromEntries(Object.entries(FORMS).map(([use, form]) => [use, ajv.compile(form)]));
const refusal = ajv.compile(ref('unusable'));

/** What ajv says against the document; empty where it has the form. `refused`: the program says that it cannot use the input. */
export function faultsOfForm(use: Use, refused: boolean, document: unknown): readonly unknown[] {
  const check = refused ? refusal : checks[use];
  if (check === undefined) throw new Error(`there is no form for ${use}`);
  if (refused || (use !== 'make' && use !== 'draft')) return check(document) ? [] : (check.errors ?? []);
  // The report, and the folder that it was written to.
  const { written, ...report } = document as { readonly written?: unknown };
  if (written !== null && typeof written !== 'string') return ['`written` is neither a folder nor null'];
  return check(report) ? [] : (check.errors ?? []);
}
