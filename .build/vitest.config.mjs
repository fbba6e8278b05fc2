// What `npm test` asks beyond `vitest run`, which finds the same tests without a configuration: every core at work, a test that asserts
// nothing fails, and more time for all, since the machine may be loaded. Long tests have a configuration of their own.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.test.ts'],
    benchmark: { include: ['tests/**/*.bench.ts'] },
    maxWorkers: '100%',
    expect: { requireAssertions: true },
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
