// Runs the test files that DATUMLIGHT_MUTANT_TESTS lists, in that order, one after another in one process, and says of each on a line
// of its own how it went: mutants are tried with it in a copy of the project.
import { relative } from 'node:path';
import process from 'node:process';
import { BaseSequencer } from 'vitest/node';
import everyone from '../vitest.config.mjs';

const root = new URL('../..', import.meta.url).pathname;
const tests = (process.env.DATUMLIGHT_MUTANT_TESTS ?? '').split(',');
const place = (spec) => tests.indexOf(relative(root, spec.moduleId));

class InGivenOrder extends BaseSequencer {
  async sort(specs) {
    return specs.toSorted((a, b) => place(a) - place(b));
  }
}

const failed = (module) => [...module.children.allTests('failed')].map((test) => test.fullName);

const aLineForEachFile = {
  onTestModuleStart: (module) => tell({ begun: module.relativeModuleId }),
  onTestModuleEnd: (module) =>
    tell({
      ended: module.relativeModuleId,
      ok: module.ok(),
      failed: failed(module)[0] ?? module.errors()[0]?.message,
      ms: module.diagnostic().duration + module.diagnostic().collectDuration,
    }),
};
const tell = (what) => process.stdout.write(`\n@${JSON.stringify(what)}\n`);

export default {
  ...everyone,
  cacheDir: 'out/vite',
  test: {
    ...everyone.test,
    include: tests,
    exclude: [],
    pool: 'forks',
    maxWorkers: 1,
    isolate: false,
    sequence: { sequencer: InGivenOrder },
    reporters: [aLineForEachFile],
  },
};
