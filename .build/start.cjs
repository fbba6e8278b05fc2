// Loads the bundle with V8's code cache beside it, if that fits this Node; exports what the bundle exports, and how to make that cache.
'use strict';
const { existsSync, readFileSync } = require('node:fs');
const { createRequire } = require('node:module');
const { join } = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

/**
 * Bytecode that a function runs through before V8 makes optimised code of it, against 67,584 by default. Most functions of `check` and
 * `make` run for a few milliseconds in all, and compiling them costs more than that: without it a `make` takes twice the CPU. Of `read`
 * the loops over pixels are worth it, what traces a few rays is not. Of pattern files, which take seconds, every thread compiles for itself:
 * a third of two threads' work by V8's own measure. There what is compiled into one function is kept shorter as well (920 bytes by default).
 */
const BUDGETS = { check: 1_500_000, make: 1_500_000, read: 500_000 };
const PATTERN_BUDGET = 600_000;
const PATTERN_INLINED = 460;

const filename = join(__dirname, 'datumlight.cjs');
// V8 checks its own version and flags, not the machine that the cache was made for.
const cache = join(__dirname, `datumlight.${process.platform}-${process.arch}.cache`);
// The bundle is ASCII, which is read and held faster as latin1.
const script = new Script(
  `(function (exports, require, module, __filename) {${readFileSync(filename, 'latin1')}\n})`,
  // A bare name: it is kept in the cache, where the building machine's folder has no place.
  { filename: 'datumlight.cjs', cachedData: existsSync(cache) ? readFileSync(cache) : undefined },
);
// The flags are V8's own and no promise: set only where the cache fits, so on the V8 that the package was built and tested with.
const tracesPattern = process.argv.some((word) => word.startsWith('--pattern'));
const budget = tracesPattern ? PATTERN_BUDGET : BUDGETS[process.argv[2]];
if (budget !== undefined && script.cachedDataRejected === false) {
  setFlagsFromString(`--interrupt-budget=${budget}`);
  if (tracesPattern) {
    setFlagsFromString(`--max-inlined-bytecode-size-cumulative=${PATTERN_INLINED}`);
    // Short-lived objects are cleared up on the thread that made them: helpers would have to be waited for where all cores are tracing.
    setFlagsFromString('--no-parallel-scavenge');
  }
  // Marking a heap of 20 MB bit by bit, on another thread, costs a tenth of a `check` that ends before anything is freed. Without it the
  // heap is marked at once when it is full: memory stays as it was.
  else setFlagsFromString('--no-incremental-marking');
}
script.runInThisContext()(exports, createRequire(filename), module, filename);
module.exports.cache = cache;
module.exports.createCache = () => script.createCachedData();
