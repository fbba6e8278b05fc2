/**
 * Time for tests that take more than about half a second on a quiet machine: vitest's own 5 s end such a test where others work beside it.
 * Imported for its effect by the test file; whatever runs the executable brings it along.
 */
import process from 'node:process';
import { vi } from 'vitest';

/** ms; the configuration of the long tests gives more. */
const LONG_ENOUGH = Number(process.env.DATUMLIGHT_TEST_TIMEOUT ?? 120_000);

vi.setConfig({ testTimeout: LONG_ENOUGH, hookTimeout: LONG_ENOUGH });
