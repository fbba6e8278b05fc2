// Remakes tests/goldens/ from the bundled examples, with the program as it is now. Run by hand, after looking at what changed
// (`npm test` leaves the new files in out/differences/ beside the committed ones); no test ever writes a golden.
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import process from 'node:process';
import { asGolden } from './golden-page.mjs';

for (const name of JSON.parse(readFileSync('tests/goldens/examples.json', 'utf8'))) {
  const out = `tests/goldens/${name}`;
  rmSync(out, { recursive: true, force: true });
  execFileSync(process.execPath, ['bin/datumlight.js', 'make', `examples/${name}.yaml`, '--out', out], {
    stdio: 'inherit',
  });
  for (const file of readdirSync(out)) {
    const path = join(out, file);
    const bytes = readFileSync(path);
    const golden = asGolden(file, bytes);
    if (!golden.equals(bytes)) writeFileSync(path, golden);
  }
}
