// Preloaded into the executable (node --require): writes the most memory that was resident, KiB, to the file PEAK_MEMORY at the end.
'use strict';
const { writeFileSync } = require('node:fs');

process.on('exit', () => writeFileSync(process.env.PEAK_MEMORY, String(process.resourceUsage().maxRSS)));
