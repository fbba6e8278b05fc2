// Compiles schemas/scenario.schema.json ahead of time into src/reading/generated/validate-scenario.js: a validator that
// needs no ajv at run time, and the schema itself as a text, for messages and for `explain`. Run it after each change of the schema.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Ajv2020 from 'ajv/dist/2020.js';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const target = join(root, 'src', 'reading', 'generated');
const schema = JSON.parse(readFileSync(join(root, 'schemas', 'scenario.schema.json'), 'utf8'));

const ajv = new Ajv2020.default({
  allErrors: true,
  allowUnionTypes: true,
  strict: true,
  messages: false,
  code: { source: true, esm: true, optimize: 2 },
});
const validator = standaloneCode.default(ajv, ajv.compile(withoutAnnotations(schema)));
const entry = [validator, `export const schemaText = ${JSON.stringify(JSON.stringify(schema))};`].join('\n');

const { outputFiles, metafile } = await build({
  stdin: { contents: entry, resolveDir: root, loader: 'js' },
  bundle: true,
  format: 'esm',
  platform: 'neutral',
  mainFields: ['main'],
  target: 'es2022',
  minifySyntax: true,
  minifyWhitespace: true,
  banner: {
    js: '// Generated from schemas/scenario.schema.json; do not edit.\n// biome-ignore-all lint: generated\n// biome-ignore-all format: generated\n// biome-ignore-all assist: generated',
  },
  write: false,
  metafile: true,
});

/** What is in the validator, for the notices. */
export const validatorMetafile = metafile;

mkdirSync(target, { recursive: true });
writeFileSync(join(target, 'validate-scenario.js'), outputFiles[0].text);
writeFileSync(
  join(target, 'validate-scenario.d.ts'),
  `// Generated; do not edit.
// biome-ignore-all format: generated
export interface SchemaError {
  readonly keyword: string;
  /** A JSON pointer into the data. */
  readonly instancePath: string;
  /** A JSON pointer into the schema, after \`#\`. */
  readonly schemaPath: string;
  readonly params: { readonly [name: string]: unknown };
}
interface Validate {
  (data: unknown): boolean;
  errors?: readonly SchemaError[] | null;
}
export const validate: Validate;
/** The schema as JSON. */
export const schemaText: string;
`,
);

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
