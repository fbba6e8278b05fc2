// Bundles src/ into dist/, everything inside, so that the package needs nothing else at run time:
//   datumlight.cjs    the command line with all commands
//   datumlight.PLATFORM-ARCH.cache  what V8 makes of it for `check`, `make` and `read`, so that a start need not compile it again
//   start.cjs         loads the two; without the cache where that does not fit
//   bench-page.html   the page that `make` adds to a package, without a design in it
//   DejaVuSansCondensed.ttf  the font of layout.pdf
//   batch-worker.cjs  the entry of a batch's worker threads
//   pattern-worker.cjs  all that the threads need that trace patterns, a twentieth of the whole
//   THIRD-PARTY-NOTICES.txt  the licences of all that is in the bundle
// Built aside and then renamed: a running command never finds half a bundle.
import { execFileSync } from 'node:child_process';
import { copyFile, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import process from 'node:process';
import { build } from 'esbuild';
import { benchPage } from './bench-page.mjs';
import { validatorMetafiles } from './compile-schema.mjs';
import { notices, packagesIn } from './notices.mjs';

const aside = `dist.new-${process.pid}`;
const old = `dist.old-${process.pid}`;
const bundle = join(aside, 'datumlight.cjs');

const options = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  minifyWhitespace: true,
  define: { 'import.meta.url': 'importMetaUrl' },
  banner: { js: "const importMetaUrl = require('node:url').pathToFileURL(__filename).href;" },
  logLevel: 'warning',
  legalComments: 'linked',
  metafile: true,
};
const { metafile } = await build({ ...options, entryPoints: ['src/cli/main.ts'], outfile: bundle });
const threads = await build({
  ...options,
  entryPoints: ['src/batch/pattern-thread.ts'],
  outfile: join(aside, 'pattern-worker.cjs'),
});
await writeFile(bundle, inAscii(await readFile(bundle, 'utf8')));
const page = await benchPage();
await writeFile(join(aside, 'bench-page.html'), page.html);
const bundled = new Set(
  [metafile, threads.metafile, page.metafile, ...validatorMetafiles].flatMap(packagesIn),
);
// Its helper functions are in every bundle, and in no metafile.
bundled.add('node_modules/esbuild');
const font = 'node_modules/dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf';
await copyFile(font, join(aside, 'DejaVuSansCondensed.ttf'));
bundled.add('node_modules/dejavu-fonts-ttf');
await writeFile(join(aside, 'THIRD-PARTY-NOTICES.txt'), notices([...bundled]));
for (const name of ['start.cjs', 'batch-worker.cjs']) await copyFile(join('.build', name), join(aside, name));
await writeCache(
  'examples/converging-retroreflectors.yaml',
  'examples/full-bench.yaml',
  'examples/off-axis-asphere.yaml',
);
await rename('dist', old).catch(() => undefined);
await rename(aside, 'dist');
await rm(old, { recursive: true, force: true });
await packMathjs('node_modules/.cache/datumlight/mathjs.mjs').catch(({ message }) => {
  process.stderr.write(`mathjs is not packed for the tests, which are slower without: ${message}\n`);
});

/** Start.cjs takes it to be ASCII. What esbuild does not escape: tagged templates (none reads `raw`) and regular expressions. */
function inAscii(text) {
  return text.replace(/[^ -~\n\t]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/** Checks, makes and reads examples once, and keeps what V8 compiled for that: between them they use most of what each command has. */
async function writeCache(...examples) {
  const out = join(aside, 'out');
  // With a frame of its camera.
  const framed = 'examples/steer-mirror-on-stage';
  const script = `
    const { main, cache, createCache } = require('./${aside}/start.cjs');
    const run = (...args) => main([...args, '--quiet'], process);
    (async () => {
      for (const example of ${JSON.stringify(examples)}) {
        await run('check', example);
        await run('make', example, '--out', '${out}');
      }
      await run('read', '${framed}.yaml', '${framed}.frame.png', '--out', '${out}.yml');
      require('node:fs').writeFileSync(cache, createCache());
    })();`;
  execFileSync(process.execPath, ['-e', script], { stdio: ['ignore', 'ignore', 'pipe'] });
  await rm(out, { recursive: true });
  await rm(`${out}.yml`);
}

/** Of mathjs's thousand files what src/ takes of them, in one: vitest.config.mjs puts it in mathjs's place. */
async function packMathjs(outfile) {
  const source = await readFile('src/quantity/mathjs.ts', 'utf8');
  const [, names] = source.match(/import \{([^}]*)\} from 'mathjs'/);
  const fresh = `${outfile}.new-${process.pid}`;
  await build({
    stdin: { contents: `export {${names}} from 'mathjs';`, resolveDir: '.' },
    outfile: fresh,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
  });
  await rename(fresh, outfile);
}
