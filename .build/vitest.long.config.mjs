// The long tests (tests/**/*.long.ts, a name that vitest does not take for a test's by itself): fuzzing, a million points, kills at random
// moments. CI runs them; so does `npm run test:long`.
import { defineConfig } from 'vitest/config';

const MOST_MS = 2_400_000;

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.long.ts'],
    maxWorkers: '100%',
    expect: { requireAssertions: true },
    testTimeout: MOST_MS,
    hookTimeout: MOST_MS,
    env: { DATUMLIGHT_TEST_TIMEOUT: String(MOST_MS) },
    passWithNoTests: true,
  },
});
