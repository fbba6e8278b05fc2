/**
 * What must be true of each answer, whatever the input: an exit code that agrees with what was found, one whole document of its form, findings
 * with codes that are documented and places in the text, no figure that is none, no stack trace, outputs whole or untouched.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { codeTable } from '../../../src/rules/code-table.ts';
import type { Asked, Use } from './fuzz-asked.ts';
import { faultsOfForm } from './fuzz-forms.ts';
import type { Ground } from './fuzz-ground.ts';
import type { Answer, Ask } from './fuzz-program.ts';

const FAMILIES = Object.fromEntries(codeTable().map(({ code, family }) => [code, family]));

interface Said {
  readonly severity: string;
  readonly rule: string;
  readonly where: string;
  readonly message: string;
  readonly place?: { readonly file: string; readonly line: number; readonly column: number };
}

/** `before`: what the command had written before this input. */
export async function obeysLaws(
  one: Asked,
  answer: Answer,
  before: string,
  ground: Ground,
  ask: Ask,
): Promise<void> {
  const { use, argv } = one;
  expect(use === 'verify' || use === 'recheck' ? [0, 1, 2, 3] : [0, 1, 2], answer.stderr).toContain(
    answer.code,
  );
  noFault(answer);
  const isDocument = argv.includes('--json') && use !== 'words';
  noHiddenSigns(answer);
  if (isDocument) documentIsWhole(use, answer);
  noStrangeFigures(one, answer, isDocument);
  outputsAreWhole(one, answer, before, ground);
  if (use === 'plan' && answer.code === 0) await planIsComplete(ground, ask);
}

/** Nothing that a user should never see. */
export function noFault({ stdout, stderr }: Pick<Answer, 'stdout' | 'stderr'>): void {
  for (const said of [stdout, stderr]) {
    expect(said).not.toMatch(/\n {4}at |node:internal|internal error:|\[object Object\]/);
  }
}

/** What would move a cursor, change colours or turn letters round is never sent to a terminal; JSON has it as it was, escaped or not. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters
const HIDDEN = /[\0-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]/;
function noHiddenSigns({ stdout, stderr }: Answer): void {
  expect(HIDDEN.exec(stderr)?.index).toBeUndefined();
  if (!stdout.startsWith('{')) expect(HIDDEN.exec(stdout)?.index).toBeUndefined();
}

function documentIsWhole(use: Use, answer: Answer): void {
  const document = JSON.parse(answer.stdout) as { findings?: readonly Said[]; ok?: boolean; rows?: unknown };
  const isRefused = answer.code === 2 && document.rows === undefined;
  expect(JSON.stringify(faultsOfForm(use, isRefused, document))).toBe('[]');
  eachNumber(document, (value) => expect(Object.is(value, -0)).toBe(false));
  for (const finding of document.findings ?? []) findingIsTold(finding);
  if (use === 'check' || use === 'make' || use === 'draft') agrees(answer);
  else if (document.findings !== undefined && use !== 'plan')
    expect(document.findings.some(({ severity }) => severity === 'error')).toBe(answer.code !== 0);
}

function findingIsTold({ rule, where, message, place }: Said): void {
  expect(FAMILIES).toHaveProperty(rule);
  expect(message).not.toBe('');
  if (
    FAMILIES[rule] !== 'rule' &&
    place === undefined &&
    !isAboutNoPlace(rule, where) &&
    !message.includes('not listed')
  ) {
    expect.fail(`${rule} at ${where} has no place in the text: ${message}`);
  }
}

/** What is said of a picture as a whole, which has no lines: `where` is then the picture. */
const OF_A_FRAME = ['unread-patch', 'open-orientation'];

/** An option, a file, a frame or the written pattern as a whole, or what follows from all readings together. */
const WITHOUT_PLACE = [
  'one-cause',
  'too-many',
  'table-misread',
  'table-incomplete',
  'degenerate-points',
  'mirrored-points',
  'mixed-units',
  'set-by-eye',
];
const isAboutNoPlace = (rule: string, where: string): boolean =>
  where.startsWith('--') ||
  where === 'the pattern' ||
  FAMILIES[rule] === 'file' ||
  (OF_A_FRAME.includes(rule) && where.endsWith('/in/frame')) ||
  WITHOUT_PLACE.includes(rule);

function eachNumber(value: unknown, visit: (number: number) => void): void {
  if (typeof value === 'number') visit(value);
  else if (typeof value === 'object' && value !== null)
    for (const member of Object.values(value)) eachNumber(member, visit);
}

const NO_FIGURE = /\bNaN\b|\bInfinity\b|\bundefined\b/;
const MINUS_ZERO = /(?<![\w.+-])-0(?:\.0*)?(?![\w.])/;

/** Neither NaN nor -0 where the input has no such word of its own to be quoted. */
function noStrangeFigures(one: Asked, { stdout, stderr }: Answer, isDocument: boolean): void {
  for (const said of [stdout, stderr]) {
    if (mayNotQuote(one)) expect(said).not.toMatch(NO_FIGURE);
    if (!isDocument && !givenTo(one).includes('-0')) expect(said).not.toMatch(MINUS_ZERO);
  }
}

const givenTo = (one: Asked): string =>
  [one.input, ...Object.values(one.files)]
    .map((bytes) => Buffer.from(bytes).toString('latin1'))
    .concat(one.argv)
    .join('\n');
/** Of the words of NO_FIGURE none is in the input, and none comes from its expressions. */
const mayNotQuote = (one: Asked): boolean =>
  !/nan|inf|undefined|e\+?\d{3}|\d{300}|\/0|sqrt/i.test(givenTo(one));

/** A page's program and the licences of its parts use such words; its data stand in an element of their own. */
const withoutProgram = (text: string): string =>
  text.replaceAll(/<script>[\s\S]*?<\/script>|<template id="notices">[\s\S]*?<\/template>/g, '');

/** Nor in a file that was written. */
function filesHaveFigures(one: Asked, ground: Ground): void {
  const folder = ground.path(one.use === 'fringes' ? 'pictures' : 'out');
  if (!mayNotQuote(one)) return;
  for (const name of readdirSync(folder).filter((file) => /\.(csv|json|dxf|svg|html)$/.test(file)))
    expect(
      NO_FIGURE.exec(withoutProgram(readFileSync(join(folder, name), 'utf8')))?.[0],
      name,
    ).toBeUndefined();
}

/** Written whole where the exit code says so, and else as it was. */
function outputsAreWhole(one: Asked, { code }: Answer, before: string, ground: Ground): void {
  const { use, argv } = one;
  const now = ground.standing(use);
  switch (use) {
    case 'make':
    case 'draft':
    case 'fringes':
      if (code === 0 || (use === 'draft' && code === 1)) filesHaveFigures(one, ground);
      else expect(now).toBe(before);
      break;
    case 'plan':
      if (code === 2) expect(now).toBe(before);
      else expect(now).toContain('plan.yaml');
      break;
    case 'gather':
      if (code !== 2) expect(now).not.toBe('absent');
      break;
    case 'record':
      if (code !== 2) expect(now).toBe('record.html, record.json');
      else expect(now).toBe(before);
      break;
    case 'batch':
      break;
    default:
      expect(now, argv.join(' ')).toBe(before);
  }
}

/** A plan that does what is asked is a scenario that breaks no rule. */
async function planIsComplete(ground: Ground, ask: Ask): Promise<void> {
  const input = readFileSync(ground.path('planned', 'plan.yaml'));
  const checked = await ask({ argv: ['check', '-', '--json'], input });
  expect(checked.code, `the complete scenario:\n${input}\n${checked.stdout.slice(0, 2000)}`).toBe(0);
}

/** The exit code says what the findings of the document say. */
export function agrees({ code, stdout }: Pick<Answer, 'code' | 'stdout'>): void {
  const report = JSON.parse(stdout) as { ok: boolean; patches?: unknown; findings: readonly Said[] };
  const errors = report.findings.filter(({ severity }) => severity === 'error');
  expect(report.ok).toBe(errors.length === 0);
  const family = errors.some(({ rule }) => FAMILIES[rule] !== 'rule') ? 2 : errors.length > 0 ? 1 : 0;
  expect({ code, errors }).toEqual({ code: family, errors });
  expect(report.patches !== undefined).toBe(code !== 2);
}
