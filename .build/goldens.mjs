// Remakes tests/goldens/ from the bundled examples, with the program as it is now. Run by hand, after looking at what changed
// (`npm test` leaves the new files in out/differences/ beside the committed ones); no test ever writes a golden.
import { execFileSync } from 'node:child_process';
import { readFileSync, rmSync } from 'node:fs';
import process from 'node:process';

for (const name of JSON.parse(readFileSync('tests/goldens/examples.json', 'utf8'))) {
  const out = `tests/goldens/${name}`;
  rmSync(out, { recursive: true, force: true });
  execFileSync(process.execPath, ['bin/datumlight.js', 'make', `examples/${name}.yaml`, '--out', out], {
    stdio: 'inherit',
  });
}
