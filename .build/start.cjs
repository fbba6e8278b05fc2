// Loads core.cjs with V8's code cache beside it, if that fits this Node; exports what core.cjs exports.
// Run by the bundler as `start.cjs --write-cache SCENARIO`, it checks the scenario and writes the cache of what that compiled.
'use strict';
const { existsSync, readFileSync, writeFileSync } = require('node:fs');
const { createRequire } = require('node:module');
const { join } = require('node:path');
const { Script } = require('node:vm');

const file = join(__dirname, 'core.cjs');
const cacheFile = join(__dirname, 'core.cache');
const writing = require.main === module && process.argv[2] === '--write-cache';

// A script from the cache cannot import modules itself: the bundler has it ask `onDemand`, which is this module's import.
const onDemand = (specifier) => import(specifier);
const script = new Script(
  `(function (exports, require, module, onDemand) {${readFileSync(file, 'utf8')}\n})`,
  {
    filename: file,
    cachedData: !writing && existsSync(cacheFile) ? readFileSync(cacheFile) : undefined,
  },
);
const core = { exports: {} };
script.runInThisContext()(core.exports, createRequire(file), core, onDemand);
module.exports = core.exports;

if (writing) {
  const { stdin, stdout, stderr, env } = process;
  core.exports
    .main(['check', process.argv[3]], { stdin, stdout, stderr, env })
    .then(() => writeFileSync(cacheFile, script.createCachedData()));
}
