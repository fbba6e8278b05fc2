/** The files that a scenario names, looked for beside it; those of a scenario on standard input in the working folder. */
import { readFileSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { FileSource } from '../reading/read-scenario.ts';
import { LARGEST_INPUT } from './read-input.ts';

export const filesBeside =
  (scenario: string): FileSource =>
  (name) => {
    const path = resolve(scenario === '-' ? '.' : dirname(scenario), name);
    try {
      const { size } = statSync(path);
      if (size > LARGEST_INPUT) return { fault: `it has ${size} bytes, at most ${LARGEST_INPUT} are read` };
      return readFileSync(path);
    } catch (error) {
      return { fault: error instanceof Error ? error.message : String(error) };
    }
  };
