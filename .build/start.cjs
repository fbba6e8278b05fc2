// Loads the bundle that the command wants, with V8's code cache beside it if that fits this Node; exports what the bundle exports:
// make.cjs for `make`, core.cjs for everything else.
// Run by the bundler as `start.cjs --write-cache COMMAND…`, it does the command and writes the cache of what that compiled.
'use strict';
const { existsSync, readFileSync, writeFileSync } = require('node:fs');
const { createRequire } = require('node:module');
const { join } = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

/**
 * Bytecode that a function of `check` or `make` runs through before V8 makes optimised code of it, against 67,584 by default. Most
 * of their functions run for a few milliseconds more in all, and compiling them costs more than that.
 */
const BUDGET = 1_500_000;
const IS_BRIEF = { check: true, make: true };

const writing = require.main === module && process.argv[2] === '--write-cache';
const argv = process.argv.slice(writing ? 3 : 2);
const bundle = join(__dirname, argv[0] === 'make' ? 'make' : 'core');
const file = `${bundle}.cjs`;
const cacheFile = `${bundle}.cache`;

// A script from the cache cannot import modules itself: the bundler has it ask `onDemand`, which is this module's import.
const onDemand = (specifier) => import(specifier);
// The bundle is ASCII, which is read and held faster as latin1.
const script = new Script(
  `(function (exports, require, module, onDemand) {${readFileSync(file, 'latin1')}\n})`,
  {
    filename: file,
    cachedData: !writing && existsSync(cacheFile) ? readFileSync(cacheFile) : undefined,
  },
);
// The flags are V8's own and no promise: set only where the cache fits, so on the V8 that the package was built and tested with.
if (IS_BRIEF[argv[0]] && script.cachedDataRejected === false) {
  setFlagsFromString(`--interrupt-budget=${BUDGET}`);
  // Nor are their heaps worth marking beside the work.
  setFlagsFromString('--no-incremental-marking');
}
const loaded = { exports: {} };
script.runInThisContext()(loaded.exports, createRequire(file), loaded, onDemand);
module.exports = loaded.exports;

if (writing)
  loaded.exports.main(argv, process).then(() => writeFileSync(cacheFile, script.createCachedData()));
