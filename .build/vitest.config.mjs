// What `npm test` asks beyond `vitest run`, which finds the same tests without a configuration: every core at work, a test that asserts
// nothing fails, and more time for all, since the machine may be loaded. Long tests have a configuration of their own.
import { existsSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

const src = new URL('../src/', import.meta.url).pathname;
const packed = new URL('../node_modules/.cache/datumlight/mathjs.mjs', import.meta.url).pathname;

/** mathjs has a thousand files, of which src/ wants two functions: as `npm run build` packs those, a test file saves a second. */
const packedMathjs = {
  name: 'packed mathjs',
  enforce: 'pre',
  resolveId: (source, importer) =>
    source === 'mathjs' && importer?.startsWith(src) && existsSync(packed) ? packed : undefined,
};

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  plugins: [packedMathjs],
  test: {
    include: ['tests/**/*.test.ts'],
    benchmark: { include: ['tests/**/*.bench.ts'] },
    maxWorkers: '100%',
    // A worker keeps what it has loaded from one test file to the next, which halves the time. So no file here may put a mock in a module's place.
    isolate: false,
    setupFiles: ['tests/machine/each-file.ts'],
    // A page in a browser answers within a second only on a machine that has nothing else to do.
    expect: { requireAssertions: true, poll: { timeout: 60_000 } },
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
