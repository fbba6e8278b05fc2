// The long tests: fuzzing, a million points, kills at random moments. CI runs them; so does `npm run test:long`.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.long.test.ts'],
    globalSetup: '.build/temporary-folder.mjs',
    testTimeout: 2_400_000,
    passWithNoTests: true,
  },
});
