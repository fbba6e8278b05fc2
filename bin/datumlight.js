#!/usr/bin/env node
// Hands argv and the streams to the command line and its outcome to the shell; everything else is in src/cli.
'use strict';
const { main } = require('../dist/start.cjs');

const { stdin, stdout, stderr, env } = process;
stdout.on('error', (error) => process.exit(error.code === 'EPIPE' ? 0 : 70));
main(process.argv.slice(2), { stdin, stdout, stderr, env }).then((code) => {
  process.exitCode = code;
});
