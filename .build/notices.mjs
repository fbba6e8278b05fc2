// The notices of what is bundled: every package that gives code to dist/, with its name, version, licence and the licence's whole text.
// Refuses a package without a licence text, or with a licence that a bundle may not be passed on under.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** SPDX names of licences that let a bundle be passed on with no more than their text in it. */
const PERMISSIVE = new Set(['0BSD', 'Apache-2.0', 'BSD-2-Clause', 'BSD-3-Clause', 'ISC', 'MIT']);

/** Packages whose licence has no SPDX name in package.json: read, and found to let a bundle be passed on with its text. Of one version. */
const READ = {
  'dejavu-fonts-ttf@2.37.3': 'licence of Bitstream Vera, Arev and DejaVu fonts',
};

/**
 * Packages that ship no licence file. Each says in the first comment of a file, from `start` on, under which licence it is; the standard
 * text is in licences/. Of one version, so that an update is looked at again.
 */
const STATED = {
  'bezier-js@2.6.1': { file: 'lib/bezier.js', start: 'A javascript Bezier', licence: 'MIT' },
  'makerjs@0.19.2': { file: 'dist/index.js', start: 'Maker.js', licence: 'Apache-2.0' },
};

const LICENCE_FILE = /^(licen[cs]e|copying)([-.](md|txt|mit|apache))?$/i;
const NOTICE_FILE = /^notice(\.(md|txt))?$/i;
const RULE = '-'.repeat(100);
const standardText = (name) => readFileSync(new URL(`licences/${name}.txt`, import.meta.url), 'utf8');

/** The folders of the packages that have bytes in a bundle, by esbuild's metafile. */
export function packagesIn({ outputs }) {
  const folders = Object.values(outputs)
    .flatMap(({ inputs }) => Object.entries(inputs))
    .filter(([, { bytesInOutput }]) => bytesInOutput > 0)
    .map(([file]) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0]);
  return [...new Set(folders.filter((folder) => folder !== undefined))];
}

/** The whole file of notices, for the packages in these folders, sorted by name; throws where one may not be passed on so. */
export function notices(folders, where = 'in dist/') {
  const packages = folders.map(packageIn).sort((a, b) => (a.title < b.title ? -1 : 1));
  const twice = packages.find(({ title }, index) => title === packages[index + 1]?.title);
  if (twice) throw new Error(`${twice.title} is bundled twice`);
  return `${[
    `Notices of what is bundled ${where}\n`,
    'Datumlight itself is under the licence in LICENSE. Its bundle holds code of the packages below, of each only what is used, without',
    'comments and white space; schema validation is code that ajv generated; the helper functions that join the modules are of esbuild.',
    ...packages.map(({ title, licence, texts }) =>
      ['', RULE, `${title} (${licence})`, RULE, '', texts.join('\n\n')].join('\n'),
    ),
  ].join('\n')}\n`;
}

function packageIn(folder) {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const title = `${name} ${version}`;
  const known = READ[`${name}@${version}`];
  if (known === undefined && !isPermissive(license))
    throw new Error(`${title} has the licence ${JSON.stringify(license)}: it may not be bundled unseen`);
  const texts = [LICENCE_FILE, NOTICE_FILE].map((pattern) =>
    readdirSync(folder)
      .filter((file) => pattern.test(file))
      .sort()
      .map((file) => readFileSync(join(folder, file), 'utf8').trim()),
  );
  if (texts[0].length === 0) texts[0] = statedTexts(folder, `${name}@${version}`, license);
  return { title, licence: known ?? license, texts: texts.flat() };
}

function statedTexts(folder, key, license) {
  const stated = STATED[key];
  if (stated?.licence !== license) throw new Error(`${key} has no licence text`);
  const [comment] = /\/\*[\s\S]*?\*\//.exec(readFileSync(join(folder, stated.file), 'utf8')) ?? [''];
  const start = comment.indexOf(stated.start);
  if (start < 0) throw new Error(`${key} no longer states its licence in ${stated.file}`);
  const statement = comment
    .slice(start)
    .replace(/\**\/$/, '')
    .trim();
  return [`The package has no licence file; ${stated.file} says:`, statement, standardText(license).trim()];
}

/** An SPDX expression without brackets inside: one of its alternatives is permissive in all its parts. */
function isPermissive(expression) {
  if (typeof expression !== 'string') return false;
  const alternatives = expression.replace(/^\(|\)$/g, '').split(' OR ');
  return alternatives.some((one) => one.split(' AND ').every((part) => PERMISSIVE.has(part.trim())));
}
