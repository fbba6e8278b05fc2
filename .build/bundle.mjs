// Bundles src/ into dist/, everything inside, so that the package needs nothing else at run time:
//   core.cjs, make.cjs      the command line with what `check` needs, and with what `make` needs: one file that a start reads at once
//   core.cache, make.cache  what V8 makes of it, so that a start need not compile it again (start.cjs does without where it does not fit)
//   *.js                    every other command, loaded when asked for, and the entry of a batch's worker threads, sharing their chunks
// Built aside and then renamed: a running command never finds half a bundle.
import { execFileSync } from 'node:child_process';
import { copyFile, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import process from 'node:process';
import { build } from 'esbuild';
import './compile-schema.mjs';

const aside = `dist.new-${process.pid}`;
const old = `dist.old-${process.pid}`;
const common = {
  outdir: aside,
  bundle: true,
  platform: 'node',
  target: 'node20',
  logLevel: 'warning',
  legalComments: 'linked',
};

/** What src/cli loads on demand: each is an entry of its own. */
async function loadedOnDemand() {
  const names = new Set();
  for (const file of (await readdir('src/cli')).filter((name) => name.endsWith('.ts'))) {
    const text = await readFile(join('src/cli', file), 'utf8');
    for (const [, name] of text.matchAll(/import\('\.\/([\w-]+)\.ts'\)/g)) names.add(name);
  }
  return [...names].sort();
}

/** In such a bundle, a module loaded on demand stays outside, as the file of that name beside it. */
const onDemandStaysOutside = {
  name: 'on demand stays outside',
  setup({ onResolve }) {
    onResolve({ filter: /^\.\/[\w-]+\.ts$/ }, ({ kind, path, importer }) =>
      kind === 'dynamic-import' && importer.includes('/src/cli/')
        ? { path: `./${basename(path, '.ts')}.js`, external: true }
        : undefined,
    );
  },
};

/** commander may start other programs, but not from here: what it would do so with is loaded when it is asked for. */
const childProcessWhenAsked = {
  name: 'child_process when asked for',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^node:child_process$/ }, ({ importer }) =>
      importer.includes('commander') ? { path: 'child_process', namespace: 'when-asked' } : undefined,
    );
    onLoad({ filter: /.*/, namespace: 'when-asked' }, () => ({
      contents: `exports.spawn = (...args) => require('node:child_process').spawn(...args);`,
    }));
  },
};

/**
 * A script from V8's cache cannot import: in it, `import('./x.js')` becomes `onDemand('./x.js')`, which start.cjs gives it. Without
 * comments and white space it is ASCII, as start.cjs takes it to be.
 */
async function buildCached(name, entry) {
  await build({
    ...common,
    entryPoints: { [name]: entry },
    outExtension: { '.js': '.cjs' },
    format: 'cjs',
    minifyWhitespace: true,
    plugins: [onDemandStaysOutside, childProcessWhenAsked],
  });
  const file = join(aside, `${name}.cjs`);
  const text = await readFile(file, 'utf8');
  const asked = text.replace(/\bimport\("\.\//g, 'onDemand("./');
  if (asked === text)
    throw new Error(`${name} loads nothing on demand: has esbuild changed how it writes import()?`);
  await writeFile(file, inAscii(asked));
}

/** What esbuild does not escape: tagged templates (none reads `raw`) and regular expressions. */
const inAscii = (text) =>
  text.replace(/[^ -~\n\t]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);

/** Does a command once and keeps what V8 compiled for it. */
const writeCache = (...command) =>
  execFileSync(process.execPath, [join(aside, 'start.cjs'), '--write-cache', ...command], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });

const entries = await loadedOnDemand();
await build({
  ...common,
  entryPoints: {
    ...Object.fromEntries(entries.map((name) => [name, `src/cli/${name}.ts`])),
    'batch-worker': 'src/batch/worker.ts',
  },
  splitting: true,
  format: 'esm',
  banner: {
    js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
  },
});
await buildCached('core', 'src/cli/main.ts');
await buildCached('make', 'src/cli/main-with-make.ts');
await copyFile('.build/start.cjs', join(aside, 'start.cjs'));
const example = 'examples/converging-retroreflectors.yaml';
const out = join(aside, 'out');
writeCache('check', example);
writeCache('make', example, '--out', out);
await rm(out, { recursive: true });
await rename('dist', old).catch(() => undefined);
await rename(aside, 'dist');
await rm(old, { recursive: true, force: true });
await packMathjs('node_modules/.cache/datumlight/mathjs.mjs').catch(({ message }) => {
  process.stderr.write(`mathjs is not packed for the tests, which are slower without: ${message}\n`);
});

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
