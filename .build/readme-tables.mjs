// Rewrites the README's tables of words and codes, between their markers, from the schema and from src/finding/codes.ts.
// Run by hand (`npm run readme`); a test fails while the README says something else.
import { readFile, writeFile } from 'node:fs/promises';
import process from 'node:process';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

/** README.md as it should be. */
export async function readmeWithTables(readme) {
  const schema = JSON.parse(await readFile('schemas/scenario.schema.json', 'utf8'));
  const codes = await codeTable();
  const rows = (family) =>
    table(
      ['code', 'meaning', 'way out'],
      Object.entries(codes)
        .filter(([, row]) => family.includes(row.family))
        .map(([code, { meaning, remedy }]) => [`\`${code}\``, meaning, remedy]),
    );
  return [
    ['words', wordTables(schema)],
    ['rules', rows(['rule'])],
    ['errors', rows(['input', 'file'])],
  ].reduce((text, [name, tables]) => between(text, name, tables), readme);
}

function between(text, name, tables) {
  const [open, close] = [`<!-- ${name} -->`, `<!-- end of ${name} -->`];
  const [start, end] = [text.indexOf(open), text.indexOf(close)];
  if (start < 0 || end < start) throw new Error(`README.md has no place for the table of ${name}`);
  return `${text.slice(0, start + open.length)}\n${tables}\n${text.slice(end)}`;
}

function table(head, rows) {
  const line = (cells) => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** One table for the top of the file and one for each kind of thing in it. */
function wordTables(schema) {
  const parts = [['A scenario', schema]];
  for (const [name, part] of Object.entries(schema.$defs)) {
    if (part.properties) parts.push([SPOKEN[name] ?? name, part]);
  }
  return parts
    .map(([title, part]) => `\n**${title}**\n\n${table(['word', 'meaning', 'default'], wordsOf(part))}`)
    .join('\n');
}

const SPOKEN = {
  outline: 'An outline',
  datum: 'A datum',
  solid: 'A solid of the envelope',
  touch: 'A touch',
  reference: 'A reference',
  bias: 'A bias',
  patch: 'A patch',
  keepOut: 'A keep-out',
  seat: 'A seat',
  stageAxis: 'A screw of the stage',
  measurement: 'A measurement',
};

function wordsOf(part, before = '') {
  return Object.entries(part.properties).flatMap(([word, of]) => {
    const needed = (part.required ?? []).includes(word) ? 'required' : '';
    const fallback =
      of.default === undefined || of.default === ''
        ? needed
        : `\`${JSON.stringify(of.default).replaceAll('"', '')}\``;
    const choices = (of.enum ?? []).map((choice) => `\`${choice}\``).join(', ');
    const meaning = [of.description, choices && `One of ${choices}.`].filter(Boolean).join(' ');
    const own = [`\`${before}${word}\``, meaning, fallback];
    return of.properties ? [own, ...wordsOf(of, `${before}${word}.`)] : [own];
  });
}

async function codeTable() {
  const { outputFiles } = await build({
    entryPoints: ['src/finding/codes.ts'],
    format: 'esm',
    write: false,
    bundle: true,
  });
  const module = await import(
    `data:text/javascript;base64,${Buffer.from(outputFiles[0].text).toString('base64')}`
  );
  return module.CODES;
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  await writeFile('README.md', await readmeWithTables(await readFile('README.md', 'utf8')));
}
