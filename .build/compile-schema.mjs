// Compiles schemas ahead of time into src/reading/generated/: validators that need no ajv at run time. Run it after each change of a
// schema.
//   validate-scenario.js  of schemas/scenario.schema.json, and that schema itself as a text, for messages and for `explain`
//   validate-record.js    of schemas/record.schema.json
//   validate-summary.js   of schemas/summary.schema.json: of a summary without its rows, and of one row
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Ajv2020 from 'ajv/dist/2020.js';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const target = join(root, 'src', 'reading', 'generated');
const schemaOf = (name) => JSON.parse(readFileSync(join(root, 'schemas', `${name}.schema.json`), 'utf8'));

const TYPES = `// Generated; do not edit.
// biome-ignore-all format: generated
export interface SchemaError {
  readonly keyword: string;
  /** A JSON pointer into the data. */
  readonly instancePath: string;
  /** A JSON pointer into the schema, after \`#\`. */
  readonly schemaPath: string;
  readonly params: { readonly [name: string]: unknown };
  /** Such as \`must be integer\`; not of a scenario, whose faults have words of their own. */
  readonly message?: string;
}
interface Validate {
  (data: unknown): boolean;
  errors?: readonly SchemaError[] | null;
}
`;

/** What is in each validator, for the notices. */
export const validatorMetafiles = [];

const scenario = schemaOf('scenario');
await write('scenario', {
  code: compiled({ validate: withoutAnnotations(scenario) }, false),
  more: `export const schemaText = ${JSON.stringify(JSON.stringify(scenario))};`,
  types: 'export const validate: Validate;\n/** The schema as JSON. */\nexport const schemaText: string;\n',
});

const summary = withoutAnnotations(schemaOf('summary'));
await write('summary', {
  code: compiled(
    {
      validateHead: {
        ...summary,
        $id: `${summary.$id}:head`,
        properties: { ...summary.properties, rows: { type: 'array' } },
      },
      validateRow: { ...summary.$defs.row, $defs: summary.$defs },
    },
    true,
  ),
  more: '',
  types: 'export const validateHead: Validate;\nexport const validateRow: Validate;\n',
});

await write('record', {
  code: compiled({ validate: withoutAnnotations(schemaOf('record')) }, true),
  more: '',
  types: 'export const validate: Validate;\n',
});

/** Source text that exports a validator of each schema by its name. */
function compiled(schemas, messages) {
  const ajv = new Ajv2020.default({
    allErrors: true,
    allowUnionTypes: true,
    strict: true,
    messages,
    code: { source: true, esm: true, optimize: 2 },
  });
  for (const [name, schema] of Object.entries(schemas)) ajv.addSchema(schema, name);
  return standaloneCode.default(ajv, Object.fromEntries(Object.keys(schemas).map((name) => [name, name])));
}

async function write(name, { code, more, types }) {
  const { outputFiles, metafile } = await build({
    stdin: { contents: `${code}\n${more}`, resolveDir: root, loader: 'js' },
    bundle: true,
    format: 'esm',
    platform: 'neutral',
    mainFields: ['main'],
    target: 'es2022',
    minifySyntax: true,
    minifyWhitespace: true,
    banner: {
      js: `// Generated from schemas/${name}.schema.json; do not edit.\n// biome-ignore-all lint: generated\n// biome-ignore-all format: generated\n// biome-ignore-all assist: generated`,
    },
    write: false,
    metafile: true,
  });
  validatorMetafiles.push(metafile);
  mkdirSync(target, { recursive: true });
  writeFileSync(join(target, `validate-${name}.js`), outputFiles[0].text);
  writeFileSync(join(target, `validate-${name}.d.ts`), TYPES + types);
}

/** A validator needs none of the schema's prose. */
function withoutAnnotations(node) {
  if (Array.isArray(node)) return node.map(withoutAnnotations);
  if (node === null || typeof node !== 'object') return node;
  const dropped = (key, value) =>
    (key === 'description' && typeof value === 'string') || key === 'examples' || key === 'default';
  return Object.fromEntries(
    Object.entries(node)
      .filter(([key, value]) => !dropped(key, value))
      .map(([key, value]) => [key, withoutAnnotations(value)]),
  );
}
