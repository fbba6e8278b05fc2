// Bundles src/ into dist/: one entry, split so that a command loads only what it uses. Everything is inside, so that the
// package needs nothing else at run time. Built aside and then renamed: a running command never finds half a bundle.
import { rename, rm } from 'node:fs/promises';
import process from 'node:process';
import { build } from 'esbuild';
import './compile-schema.mjs';

const aside = `dist.new-${process.pid}`;
const old = `dist.old-${process.pid}`;
await build({
  entryPoints: { main: 'src/cli/main.ts' },
  outdir: aside,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  legalComments: 'linked',
  banner: {
    js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
  },
  logLevel: 'warning',
});
await rename('dist', old).catch(() => undefined);
await rename(aside, 'dist');
await rm(old, { recursive: true, force: true });
