// The bench page without a design, for dist/bench-page.html: src/bench-page/ bundled for the browser into one file that fetches nothing.
// `make` puts the design into it, see src/writing/bench-page/. ASCII throughout. Gives esbuild's metafile, for the notices.
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { build } from 'esbuild';
import { notices, packagesIn } from './notices.mjs';
import { portableMath } from './portable-math.mjs';

const ROOM = 'src/bench-page';

export async function benchPage() {
  const { outputFiles, metafile } = await build({
    entryPoints: { program: `${ROOM}/main.ts`, style: `${ROOM}/style.css` },
    outdir: 'out',
    bundle: true,
    write: false,
    platform: 'browser',
    target: ['es2022', 'chrome110', 'firefox115', 'safari16'],
    format: 'iife',
    minify: true,
    charset: 'ascii',
    // Of its modules, not of the one file that holds all: a third of it is used.
    alias: { 'ml-matrix': resolve('node_modules/ml-matrix/src/index.js') },
    ...portableMath,
    plugins: [withoutEncoder],
    legalComments: 'none',
    metafile: true,
    logLevel: 'warning',
  });
  const textOf = (ending) => outputFiles.find(({ path }) => path.endsWith(ending)).text.trim();
  // What would end the element of the script ends none within a string or an expression when it is written so.
  const program = inAscii(textOf('.js')).replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--');
  const folders = [...packagesIn(metafile), 'node_modules/esbuild'];
  const parts = {
    policy: policy(program),
    style: `<style>${textOf('.css')}</style>`,
    program: `<script>${program}</script>`,
    notices: escaped(notices([...new Set(folders)], 'in this page')),
  };
  const page = await readFile(`${ROOM}/page.html`, 'utf8');
  const html = page.replace(/<!--built:(\w+)-->/g, (_, name) => parts[name]);
  return { html: entitiesFor(html), metafile };
}

/** The page reads PNG and writes none; of a library that is loaded on demand the bundler keeps all. */
const withoutEncoder = {
  name: 'without-png-encoder',
  setup({ onLoad }) {
    onLoad({ filter: /fast-png[\\/]lib[\\/]png_encoder\.js$/ }, () => ({
      contents: 'export default class {}',
    }));
  },
};

/** Nothing is fetched and no other script runs: what a title or an id says can do nothing. Pictures are drawn here, or are the camera's. */
function policy(program) {
  const hash = createHash('sha256').update(program).digest('base64');
  return [
    "default-src 'none'",
    `script-src 'sha256-${hash}'`,
    "style-src 'unsafe-inline'",
    'img-src data: blob:',
    'media-src blob: mediastream:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

const escaped = (text) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('\t', '  ');
/** In a program: what stands beyond ASCII, or as a tab, in regular expressions and templates, which esbuild leaves; minified, it has no other. */
const inAscii = (text) =>
  text
    .replaceAll('\t', '\\t')
    .replace(/[^ -~\n]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
/** In markup. */
const entitiesFor = (text) =>
  text.replace(/[^ -~\n\t]/gu, (letter) => `&#x${letter.codePointAt(0).toString(16)};`);
