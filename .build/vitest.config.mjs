// The tests that everyone runs: all but the long ones, which CI runs with vitest.long.config.mjs.
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
    exclude: ['tests/**/*.long.test.ts'],
    benchmark: { include: ['tests/**/*.bench.ts'] },
    globalSetup: '.build/temporary-folder.mjs',
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
