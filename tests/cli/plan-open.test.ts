/**
 * `plan` where it cannot do all: the file that is written names what is still `auto` in it, a candidate that the file itself uses is
 * used, a long list of reasons is cut, and a signal ends it at once, with nothing written. Through the real executable.
 */
import { spawn } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { withPlanMark } from '../../src/reading/scenario/plan-mark.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

interface Scene {
  readonly references: readonly string[];
  readonly patches?: string;
  readonly more?: string;
  readonly substrate?: string;
}

const scene = ({ references, patches = '[]', more = '', substrate = '150' }: Scene): string => `\
format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2, placed: {x: 20 um, y: 20 um, z: 20 um, rx: 40 urad, ry: 40 urad}}
substrate: {outline: {circle: {diameter: ${substrate}}}, edgeMargin: 3, clearance: 0.5}
part: {origin: [0, 0, 150]}
references:
${references.join('\n')}
patches: ${patches}
${more}
wanted: {x: 10 um, y: 10 um, z: 50 um, rx: 300 urad, ry: 300 urad, rz: 300 urad}
`;

const ball = (id: string, at: string, words = 'patches: auto'): string =>
  `  - {id: ${id}, kind: ball, diameter: 0.5 in, at: [${at}], ${words}}`;
const THREE = [ball('top', '0, 84, 130'), ball('left', '-73, -42, 130'), ball('right', '73, -42, 130')];
const CANDIDATE = ball('extra', '0, -84, 130', 'use: auto, patches: auto');

test.each([
  [
    'a patch',
    '[{id: mine, reference: extra, focus: point, centre: [0, -60], outline: {circle: {diameter: 10}}}]',
    '',
  ],
  ['an open patch', '[{id: mine, reference: extra, focus: point, centre: auto, outline: auto}]', ''],
  [
    'a measurement',
    '[]',
    'measurements: [{id: m, reference: extra, direction: [1, 0, 0], uncertainty: 1 um}]',
  ],
])('a candidate that %s of the file names is used, and the plan passes check', async (_, patches, more) => {
  const out = join(folder(), 'planned.yaml');
  const text = scene({ references: [...THREE, CANDIDATE], patches, more });
  const { code, stderr } = await datumlight(['plan', scenarioFile(text), '--out', out]);
  expect(stderr).toBe('');
  expect(code).toBe(0);
  expect(readFileSync(out, 'utf8')).toMatch(/id: extra, .*use: true/);
  expect((await datumlight(['check', out])).code).toBe(0);
});

test('what has no place stays `auto`: exit 1, the file and its open places by name, nothing said of a complete one', async () => {
  // Far aside: no pattern toward it is coarse enough for the process.
  const references = [...THREE, ball('aside', '9000, 0, 130')];
  const patches =
    '[{id: mine, reference: aside, focus: point, centre: auto, outline: {circle: {diameter: 10}}}]';
  const file = scenarioFile(scene({ references, patches }));
  const out = join(folder(), 'planned.yaml');
  const { code, stdout, stderr } = await datumlight(['plan', file, '--out', out]);
  expect(code).toBe(1);
  expect(stderr).toContain(
    `${out} is not complete: still open (\`auto\`): \`centre\` of patch mine; \`patches\` of reference aside\n`,
  );
  expect(stdout).toMatch(/does not meet what is asked; best result: 3 patches/);
  expect(readFileSync(out, 'utf8').match(/\bauto\b/g)).toHaveLength(2);
  const json = await datumlight(['plan', file, '--out', '-', '--json']);
  expect(JSON.parse(json.stdout)).toMatchObject({
    ok: false,
    complete: false,
    open: ['patches[0].centre', 'references[3].patches'],
  });
  const help = await datumlight(['plan', '--help']);
  expect(help.stdout).not.toMatch(/complete/);
});

test('of more than a hundred reasons the first hundred are printed, and the rest counted', async () => {
  const references = Array.from({ length: 120 }, (_, k) => ball(`b${k}`, `${20 * k}, 0, 130`));
  const out = join(folder(), 'planned.yaml');
  const file = scenarioFile(scene({ references, substrate: '0.01' }));
  const { code, stderr } = await datumlight(['plan', file, '--out', out]);
  expect(code).toBe(1);
  expect(stderr).toMatch(/there is no place for patch b0-1 .*: the glass has no free area/);
  expect(stderr).toMatch(/: 2\d more reasons are not listed\n/);
  expect(stderr.split('\n').length).toBeLessThan(110);
  expect(stderr).toMatch(/is not complete: .*; and of 108 more\n/);
});

test.each(['SIGINT', 'SIGTERM'] as const)(
  '%s ends the search at once: nothing is written, the old file stays',
  async (signal) => {
    const where = folder();
    const out = join(where, 'planned.yaml');
    // As an earlier run left it.
    const before = withPlanMark('title: as it was\n');
    writeFileSync(out, before);
    // Cubes in one place: each hides the others, and every place on the glass is tried in vain.
    const cubes = Array.from(
      { length: 4 },
      (_, k) => `  - {id: s${k}, kind: smr, diameter: 1.5 in, at: [0, 84, 400], patches: auto}`,
    );
    // As on a terminal, where the progress tells that the search has begun.
    const terminal = 'data:text/javascript,process.stderr.isTTY=true';
    const argv = [
      '--import',
      terminal,
      resolve('bin/datumlight.js'),
      'plan',
      scenarioFile(scene({ references: cubes })),
      '--out',
      out,
    ];
    const child = spawn(process.execPath, argv);
    child.stderr.once('data', () => child.kill(signal));
    const ended = await new Promise((done) => child.on('close', (code, by) => done(code ?? by)));
    expect(ended).toBe(signal);
    expect(readFileSync(out, 'utf8')).toBe(before);
    expect(readdirSync(where)).toEqual(['planned.yaml']);
  },
);
