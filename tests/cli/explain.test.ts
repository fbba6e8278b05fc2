/** `explain` through the real executable: rows of words and codes, the end of a word alone, JSON, and what is unknown. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { codeTable } from '../../src/rules/code-table.ts';
import { datumlight } from './support/run.ts';

const schema = JSON.parse(readFileSync('schemas/scenario.schema.json', 'utf8'));
const explain = (...args: string[]) => datumlight(['explain', ...args]);

test('a word: its place, its default, its meaning in the schema', async () => {
  const { patternFaces } = schema.properties.substrate.properties;
  const { code, stdout, stderr } = await explain('substrate.patternFaces');
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(stdout).toBe(
    `substrate.patternFaces (default: part)\n  ${patternFaces.description} One of \`part\`, \`interferometer\`.\n`,
  );
});

test('a word within a list, and one that is required', async () => {
  const { stdout } = await explain('patches.bias.shape');
  expect(stdout).toMatch(/^patches\.bias\.shape \(required\)\n {2}.*\n$/);
});

test('the end of a word stands for all that end so, each place once', async () => {
  expect((await explain('clearance')).stdout).toMatch(/^substrate\.clearance /);
  const { stdout } = await explain('circle.diameter', '--json');
  const { words, codes } = JSON.parse(stdout);
  expect(codes).toEqual([]);
  expect(words).toEqual([
    {
      paths: [
        'substrate.outline.circle.diameter',
        'keepOuts.outline.circle.diameter',
        'part.datums.plane.extent.circle.diameter',
        'test.aperture.circle.diameter',
        'patches.outline.circle.diameter',
      ],
      meaning: schema.$defs.outline.properties.circle.properties.diameter.description,
      required: true,
      default: null,
    },
  ]);
});

const rowOf = (asked: string) => codeTable().find(({ code }) => code === asked)!;

test('a code: what it means and the way out', async () => {
  const { meaning, limit, remedy } = rowOf('keep-out');
  expect((await explain('keep-out')).stdout).toBe(
    `keep-out (layout rule)\n  ${meaning}\n  Limit: ${limit}.\n  ${remedy}\n`,
  );
  const { stdout } = await explain('unknown-unit', '--json');
  expect(JSON.parse(stdout)).toEqual({
    words: [],
    codes: [rowOf('unknown-unit')],
  });
});

test.each([
  ['clearence', /did you mean `clearance`\?/],
  ['patch-overlp', /did you mean `patch-overlap`\?/],
  ['substrate.patternFace', /did you mean `substrate\.patternFaces`\?/],
  ['something else', /schemas\/README\.md lists all/],
])('unknown, %j: exit 2 with the nearest name', async (asked, hint) => {
  const { code, stdout, stderr } = await explain(asked);
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(hint);
  expect(JSON.parse((await explain(asked, '--json')).stdout)).toMatchObject({
    ok: false,
    findings: [{ rule: 'unknown-name' }],
  });
});
