/** A file that changes between the listing of a batch and the making of its case: told, and nothing of it kept. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Cache } from '../../src/batch/cache.ts';
import { isCase } from '../../src/batch/case.ts';
import { doCase } from '../../src/batch/do-case.ts';
import { listCases } from '../../src/batch/list-cases.ts';
import { caseKey } from '../../src/batch/make-case.ts';
import { filesBeside } from '../../src/disk/files-beside.ts';
import { soundScenario } from '../cli/support/run.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';

const MAKING = { version: '0', program: 'p', draft: false };
const triangle = (x: number): string =>
  `solid s\nfacet normal 0 0 1\nouter loop\nvertex ${x} 0 900\nvertex ${x} 9 900\nvertex ${x + 9} 0 900\nendloop\nendfacet\nendsolid s\n`;

function bench() {
  const dir = temporaryFolder();
  const file = join(dir, 's.yaml');
  const mesh = (text: string): void => writeFileSync(join(dir, 'cell.stl'), text);
  writeFileSync(
    file,
    soundScenario((text) =>
      text.replace('references:', 'part: {envelope: [{mesh: {file: cell.stl}}]}\nreferences:'),
    ),
  );
  const listed = () => {
    const [one] = listCases([file]);
    if (one === undefined || !isCase(one)) throw new Error('not listed');
    return one;
  };
  return { dir, mesh, listed, out: join(dir, 'out'), cache: join(dir, 'cache') };
}

test('the key of a case follows the bytes of its mesh, and that it is missing', () => {
  const { mesh, listed } = bench();
  const missing = caseKey(listed(), MAKING);
  mesh(triangle(1000));
  const one = caseKey(listed(), MAKING);
  mesh(triangle(1001));
  const other = caseKey(listed(), MAKING);
  mesh(triangle(1000));
  expect(new Set([missing, one, other]).size).toBe(3);
  expect(caseKey(listed(), MAKING)).toBe(one);
});

test('a mesh that is another one when its case is made, or gone: told, and not kept in the cache', () => {
  const { mesh, listed, out, cache } = bench();
  mesh(triangle(1000));
  const one = listed();
  mesh(triangle(1001));
  const { figures } = doCase({ one, making: MAKING, out, cache, verify: false });
  expect(figures.outcome).toBe('unusable');
  expect(figures.says.join()).toContain('`cell.stl` that the scenario names changed while the batch ran');
  expect(new Cache(cache).find(caseKey(one, MAKING))).toBeUndefined();
  mesh(triangle(1000));
  expect(doCase({ one, making: MAKING, out, cache, verify: false }).figures.outcome).toBe('fine');
  expect(new Cache(cache).find(caseKey(one, MAKING))).toBeDefined();
});

test('what cannot be read is said without the folder it was looked for in', () => {
  const { dir, mesh } = bench();
  mesh('');
  const files = filesBeside(join(dir, 's.yaml'));
  expect(files('none.stl')).toEqual({ fault: 'no such file' });
  expect(files('cell.stl/deeper.stl')).toEqual({ fault: 'no such file' });
  expect(files('.')).toEqual({ fault: 'it is a folder' });
  expect(files('a\0b')).toMatchObject({ fault: expect.any(String) });
});
