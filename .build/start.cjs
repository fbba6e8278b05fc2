// Loads core.cjs with V8's code cache beside it, if that fits this Node; exports what core.cjs exports.
// Run by the bundler as `start.cjs --write-cache SCENARIO`, it checks the scenario and writes the cache of what that compiled.
'use strict';
const { existsSync, readFileSync, writeFileSync } = require('node:fs');
const { createRequire, wrap } = require('node:module');
const { dirname, join } = require('node:path');
const vm = require('node:vm');

const file = join(__dirname, 'core.cjs');
const cacheFile = join(__dirname, 'core.cache');
const writing = require.main === module && process.argv[2] === '--write-cache';

/** Without this constant (before Node 20.12) a compiled script cannot load other modules. */
const loader = vm.constants?.USE_MAIN_CONTEXT_DEFAULT_LOADER;
if (loader === undefined) {
  module.exports = require(file);
} else {
  const cachedData = !writing && existsSync(cacheFile) ? readFileSync(cacheFile) : undefined;
  const script = new vm.Script(wrap(readFileSync(file, 'utf8')), {
    filename: file,
    cachedData,
    importModuleDynamically: loader,
  });
  const core = { exports: {} };
  script.runInThisContext()(core.exports, createRequire(file), core, file, dirname(file));
  module.exports = core.exports;
  if (writing) {
    const { stdin, stdout, stderr, env } = process;
    core.exports
      .main(['check', process.argv[3]], { stdin, stdout, stderr, env })
      .then(() => writeFileSync(cacheFile, script.createCachedData()));
  }
}
