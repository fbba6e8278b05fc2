// Preloaded into the executable (node --require): at the Nth change of anything on the disk, the process is killed, or the disk says no
// with an error of its own. Counted per thread, so that a batch's workers can be struck as well as its main thread.
//   DISK_FAULT     kill, or the error's code; without it changes are only counted
//   DISK_FAULT_AT  which change, from 1; `kill` comes before it, or half through it where a file is written
//   DISK_THREAD    main (as if not given) or worker
//   DISK_COUNT     file that the number of changes so far is written to
'use strict';
const fs = require('node:fs');
const { syncBuiltinESMExports } = require('node:module');
const { isMainThread } = require('node:worker_threads');

const { DISK_FAULT, DISK_FAULT_AT, DISK_THREAD = 'main', DISK_COUNT } = process.env;
if (isMainThread === (DISK_THREAD === 'main')) strike();

function strike() {
  const at = Number(DISK_FAULT_AT);
  const original = { ...fs };
  let changes = 0;

  /** Whether this change is the one that is struck, or comes after it on a disk that has said no: room can be made, not taken. */
  const struck = (takesRoom) => {
    changes++;
    if (DISK_COUNT) original.writeFileSync(DISK_COUNT, String(changes));
    if (DISK_FAULT === undefined || changes < at) return false;
    return DISK_FAULT === 'ENOSPC' ? takesRoom : changes === at || DISK_FAULT === 'EROFS';
  };
  const fail = (what, path) => {
    throw Object.assign(new Error(`${DISK_FAULT}: the disk says no, ${what} '${path}'`), {
      code: DISK_FAULT,
      syscall: what,
      path,
    });
  };
  const die = () => process.kill(process.pid, 'SIGKILL');
  const wrap = (name, takesRoom, half = () => undefined) => {
    fs[name] = (...args) => {
      if (struck(takesRoom)) {
        half(...args);
        if (DISK_FAULT === 'kill') die();
        fail(name.replace('Sync', ''), args[0]);
      }
      return original[name](...args);
    };
  };
  const halfOf = (content) => {
    const bytes = Buffer.from(content);
    return bytes.subarray(0, bytes.length >> 1);
  };
  wrap('writeFileSync', true, (path, content, options) => {
    if (DISK_FAULT !== 'EROFS' && DISK_FAULT !== 'EACCES')
      original.writeFileSync(path, halfOf(content), options);
  });
  wrap('writeSync', true, (file, content) => original.writeSync(file, halfOf(content)));
  wrap('mkdirSync', true);
  wrap('linkSync', true);
  wrap('renameSync', false);
  wrap('unlinkSync', false);
  wrap('rmdirSync', false);
  wrap('rmSync', false);
  wrap('chmodSync', false);
  syncBuiltinESMExports();
}
