/** Ten jobs of different kinds as scenarios, each designed once: what is set differs, and so what a sheet may ask for. */
import { readdirSync, readFileSync } from 'node:fs';
import type { Design } from '../../../src/design/design.ts';
import { designOf } from './made-sheets.ts';

const FOLDER = 'tests/writing/sheet/jobs';
const ENDING = '.yaml';

export const JOB_NAMES = readdirSync(FOLDER)
  .filter((name) => name.endsWith(ENDING))
  .map((name) => name.slice(0, -ENDING.length))
  .sort();

export const jobText = (name: string): string => readFileSync(`${FOLDER}/${name}${ENDING}`, 'utf8');

const designs = new Map<string, Design>();

export function job(name: string): Design {
  const design = designs.get(name) ?? designOf(jobText(name));
  designs.set(name, design);
  return design;
}
