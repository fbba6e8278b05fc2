/** What tests of `record` stand on: the example's scenario and log, a folder with its package, and the schema that ships. */
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect } from 'vitest';
import { type Printed, run } from '../../end-to-end/support/command.ts';
import { example, folder } from './run.ts';

export const SCENARIO = example('steer-mirror-on-stage');
export const LOG = resolve('examples/steer-mirror-on-stage.log.yml');

export const acceptsRecord = new Ajv2020.default({
  allErrors: true,
  strict: true,
  allowUnionTypes: true,
}).compile(JSON.parse(readFileSync('schemas/record.schema.json', 'utf8')));

/** A folder that holds `package`, made in this process, and paths in it. */
export async function packageFolder() {
  const dir = folder();
  const at = (...steps: string[]): string => join(dir, ...steps);
  expect(await run(['make', SCENARIO, '--out', at('package'), '--quiet'])).toMatchObject({ code: 0 });
  const made = ['--package', at('package')];
  return {
    at,
    file(name: string, text: string): string {
      writeFileSync(at(name), text);
      return at(name);
    },
    /** The example's log with something changed, in a file of that name. */
    logFile(name: string, change: (log: string) => string): string {
      writeFileSync(at(name), change(readFileSync(LOG, 'utf8')));
      return at(name);
    },
    /** The package, one byte of whose file `name` has changed. */
    bent(name: string): string {
      cpSync(at('package'), at('bent', name), { recursive: true });
      const bytes = readFileSync(at('bent', name, name));
      bytes[bytes.length - 40] = bytes[bytes.length - 40]! ^ 1;
      writeFileSync(at('bent', name, name), bytes);
      return at('bent', name);
    },
    make: (log: string, out: string, ...more: string[]): Promise<Printed> =>
      run(['record', SCENARIO, '--log', log, '--out', out, ...made, ...more]),
    check: (file: string, ...more: string[]): Promise<Printed> =>
      run(['record', SCENARIO, '--check', file, ...made, ...more]),
  };
}
