// Preloaded: writes the process's CPU time, user and system, in microseconds, to the file $CPU_TIME as it ends.
'use strict';
const { writeFileSync } = require('node:fs');

process.on('exit', () => {
  const { user, system } = process.cpuUsage();
  writeFileSync(process.env.CPU_TIME, `${user + system}`);
});
