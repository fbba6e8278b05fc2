// Loads the bundle with V8's code cache beside it, if that fits this Node; exports what the bundle exports.
// The bundler runs it as `start.cjs --write-cache` to write that cache.
'use strict';
const { existsSync, readFileSync } = require('node:fs');
const { createRequire } = require('node:module');
const { join } = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

/**
 * Bytecode that a function of `check` or `make` runs through before V8 makes optimised code of it, against 67,584 by default. Most
 * of their functions run for a few milliseconds in all, and compiling them costs more than that: without it a `make` takes twice the CPU.
 */
const BUDGET = 1_500_000;
const IS_BRIEF = { check: true, make: true };

const filename = join(__dirname, 'datumlight.cjs');
const cache = join(__dirname, 'datumlight.cache');
// The bundle is ASCII, which is read and held faster as latin1.
const script = new Script(
  `(function (exports, require, module, __filename) {${readFileSync(filename, 'latin1')}\n})`,
  { filename, cachedData: existsSync(cache) ? readFileSync(cache) : undefined },
);
// The flag is V8's own and no promise: set only where the cache fits, so on the V8 that the package was built and tested with.
if (IS_BRIEF[process.argv[2]] && script.cachedDataRejected === false)
  setFlagsFromString(`--interrupt-budget=${BUDGET}`);
script.runInThisContext()(exports, createRequire(filename), module, filename);
module.exports.createCache = () => script.createCachedData();
