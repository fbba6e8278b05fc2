// Bundles src/ into dist/: one entry, split so that a command loads only what it uses. Everything is inside, so that the
// package needs nothing else at run time.
import { rm } from 'node:fs/promises';
import { build } from 'esbuild';
import './compile-schema.mjs';

await rm('dist', { recursive: true, force: true });
await build({
  entryPoints: { main: 'src/cli/main.ts' },
  outdir: 'dist',
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
