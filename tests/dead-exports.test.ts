/**
 * No export without a reader: what a file of src/ exports another file of src/ imports, or the file itself uses it and a test checks
 * it by itself, such as a formula against a published figure. What the tests alone need stands in tests/.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, normalize } from 'node:path';
import { expect, test } from 'vitest';

/** What bin/ and .build/ take: the entry of the bundle, and what the bench page has in the place of Math's functions. */
const ENTRIES = [
  'src/cli/main.ts main',
  'src/cli/main.ts serveCases',
  'src/algebra/portable/math.ts portableHypot',
];

const filesOf = (root: string): string[] =>
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(ts|mjs)$/.test(name) && !name.includes('generated'))
    .map((name) => `${root}/${name.replaceAll('\\', '/')}`);
/** Without comments, which may name anything. */
const code = (file: string): string =>
  readFileSync(file, 'utf8').replace(/\/\*[\s\S]*?\*\/|(?<!:)\/\/.*$/gm, '');

/** `src/room/file.ts name` of everything that the files import by name. */
function importedBy(files: readonly string[]): Set<string> {
  const imported = new Set<string>();
  for (const file of files) {
    const named =
      /(?:(?:import|export)\s+(?:type\s+)?\{([^}]*)\}\s*from|\{([^}]*)\}\s*=\s*await import\()\s*'(\.[^']+)'/g;
    for (const [, fixed, onDemand, target] of code(file).matchAll(named)) {
      for (const name of (fixed ?? onDemand ?? '').split(',')) {
        const plain = name
          .trim()
          .replace(/^type\s+/, '')
          .split(/\s+as\s+|:/)[0];
        if (plain) imported.add(`${normalize(`${dirname(file)}/${target}`)} ${plain.trim()}`);
      }
    }
  }
  return imported;
}

const source = filesOf('src');
const exported = source.flatMap((file) =>
  [
    ...code(file).matchAll(
      /^export\s+(?:async\s+|abstract\s+)?(?:function\*?|const|let|class|interface|type|enum)\s+(\w+)/gm,
    ),
  ].map(([, name]) => ({ file, name: name! })),
);

test('every export has a reader in src/, or is used where it stands and checked by a test of its own', () => {
  const bySource = importedBy(source);
  const byTests = importedBy(filesOf('tests'));
  const isUsedAtHome = (file: string, name: string): boolean =>
    (code(file).match(new RegExp(`\\b${name}\\b`, 'g')) ?? []).length > 1;
  const dead = exported.filter(({ file, name }) => {
    const key = `${file} ${name}`;
    if (bySource.has(key) || ENTRIES.includes(key)) return false;
    return !(byTests.has(key) && isUsedAtHome(file, name));
  });
  expect(exported.length).toBeGreaterThan(500);
  expect(dead.map(({ file, name }) => `${file}: ${name}`)).toEqual([]);
});
