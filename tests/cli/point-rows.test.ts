/** Points are read twice: a file that is another one the second time is told, not answered as if it were the first. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import process from 'node:process';
import { expect, test } from 'vitest';
import { pointRows } from '../../src/cli/point-rows.ts';
import { UnusableInput } from '../../src/disk/text-file.ts';
import { temporaryFolder } from '../machine/temporary-folder.ts';

const HEAD = 'x_mm,y_mm\n';
const read = async (first: string, second: string): Promise<unknown[]> => {
  const file = join(temporaryFolder(), 'points.csv');
  writeFileSync(file, HEAD + first);
  const found = await pointRows(file, process);
  if (!('points' in found)) throw new Error('the table is sound');
  writeFileSync(file, HEAD + second);
  const rows: unknown[] = [];
  for await (const block of found.points.blocks()) rows.push(...block);
  found.points.close();
  return rows;
};

test('the same file gives its points, as they were written', async () => {
  expect(await read('1,2.50\n', '1,2.50\n')).toEqual([{ x: 1, y: 2.5, texts: ['1', '2.50'] }]);
});

test.each([
  ['shorter', ''],
  ['longer', '1,2\n3,4\n5,6\n'],
  ['faulty', '1,2\nx,4\n'],
])('a file that has become %s is told', async (_, second) => {
  await expect(read('1,2\n3,4\n', second)).rejects.toThrow(UnusableInput);
  await expect(read('1,2\n3,4\n', second)).rejects.toThrow('changed while it was read');
});
