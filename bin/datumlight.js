#!/usr/bin/env node
// Hands argv and the streams to the command line and its outcome to the shell; everything else is in src/cli.
'use strict';
const { main } = require('../dist/start.cjs');

// A reader that goes away early, such as `head`, changes nothing of the outcome: the command goes on to its own exit code.
const isGone = ({ code }) => code === 'EPIPE' || code === 'ERR_STREAM_DESTROYED';
process.stderr.on('error', () => {});
process.stdout.on('error', (error) => {
  const { message } = error;
  if (isGone(error)) return;
  process.stderr.write(
    `datumlight: standard output cannot be written: ${message}; make room on its disk [error not-writable]\n`,
  );
  process.exit(2);
});
// The process has what `main` wants of the world; its stdin costs some milliseconds to look at.
main(process.argv.slice(2), process).then((code) => {
  process.exitCode = code;
});
