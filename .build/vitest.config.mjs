// The tests that everyone runs: all but the long ones, which CI runs with vitest.long.config.mjs.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/**/*.long.test.ts'],
    benchmark: { include: ['tests/**/*.bench.ts'] },
    globalSetup: '.build/temporary-folder.mjs',
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
