// Rewrites the tables of words and codes in schemas/README.md, between their markers, from what `explain` prints.
// Run by hand (`npm run readme`); a test fails while the file says something else.
import { readFile, writeFile } from 'node:fs/promises';
import process from 'node:process';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

/** The page as it should be. */
export async function pageWithTables(page) {
  const { scenarioWords, codeTable } = await rows();
  return [
    ['words', wordTables(scenarioWords())],
    ['rules', ruleTable(codeTable())],
    ['errors', errorTable(codeTable())],
    ['report', keyTable(await schemaOf('report'), 'report')],
    ['record', keyTable(await schemaOf('record'))],
    ['read', keyTable(await schemaOf('read'), 'read')],
  ].reduce((text, [name, tables]) => between(text, name, tables), page);
}

const schemaOf = async (name) => JSON.parse(await readFile(`schemas/${name}.schema.json`, 'utf8'));

function between(text, name, tables) {
  const [open, close] = [`<!-- ${name} -->`, `<!-- end of ${name} -->`];
  const [start, end] = [text.indexOf(open), text.indexOf(close)];
  if (start < 0 || end < start) throw new Error(`there is no place for the table of ${name}`);
  return `${text.slice(0, start + open.length)}\n${tables}\n${text.slice(end)}`;
}

function table(head, rows) {
  const line = (cells) => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** One table for the top of the file and one for each kind of thing in it. */
function wordTables(words) {
  const row = ({ word, meaning, required, fallback }) => [
    `\`${word}\``,
    meaning,
    fallback === undefined ? (required ? 'required' : '') : `\`${fallback}\``,
  ];
  return [...new Set(words.map(({ of }) => of))]
    .map((title) => {
      const own = words.filter(({ of }) => of === title);
      return `\n**${title}**\n\n${table(['word', 'meaning', 'default'], own.map(row))}`;
    })
    .join('\n');
}

const ruleTable = (codes) =>
  table(
    ['code', 'meaning', 'limit', 'way out'],
    codes
      .filter(({ family }) => family === 'rule')
      .map(({ code, meaning, limit, remedy }) => [`\`${code}\``, meaning, limit, remedy]),
  );

const errorTable = (codes) =>
  table(
    ['code', 'meaning', 'way out'],
    codes
      .filter(({ family }) => family !== 'rule')
      .map(({ code, meaning, remedy }) => [`\`${code}\``, meaning, remedy]),
  );

/** Every key of a document with its meaning, by its path: `[]` for each entry of a list, `*` for each key of a mapping. */
function keyTable(schema, root) {
  const found = [];
  const visit = (node, path) => {
    const whole = node.$ref ? { ...schema.$defs[node.$ref.split('/').at(-1)], ...node } : node;
    const { properties, items, additionalProperties: others, anyOf, oneOf, description } = whole;
    if (path !== '' && description && !path.endsWith('[]')) found.push([`\`${path}\``, description]);
    for (const [key, value] of Object.entries(properties ?? {}))
      visit(value, path === '' ? key : `${path}.${key}`);
    if (items) visit(items, `${path}[]`);
    if (typeof others === 'object') visit(others, `${path}.*`);
    for (const one of anyOf ?? oneOf ?? [])
      if (one.type !== 'null') visit({ ...one, description: undefined }, path);
  };
  visit(root === undefined ? schema : schema.$defs[root], '');
  const known = new Set();
  return table(
    ['key', 'meaning'],
    found.filter(([key]) => !known.has(key) && known.add(key)),
  );
}

async function rows() {
  const { outputFiles } = await build({
    stdin: {
      contents:
        "export { codeTable } from './src/rules/code-table.ts'; export { scenarioWords } from './src/reading/scenario/scenario-words.ts';",
      resolveDir: '.',
    },
    format: 'esm',
    write: false,
    bundle: true,
  });
  const text = Buffer.from(outputFiles[0].text).toString('base64');
  return import(`data:text/javascript;base64,${text}`);
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const page = 'schemas/README.md';
  await writeFile(page, await pageWithTables(await readFile(page, 'utf8')));
}
