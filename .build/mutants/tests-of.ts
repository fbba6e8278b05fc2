/** Which tests can tell that a source has changed, the nearest first: the graph of imports from every test file. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, sep } from 'node:path';

/** They compare bytes with what the program wrote before: they catch everything and know nothing. */
export const GOLDEN_TESTS: readonly string[] = ['tests/cli/goldens.test.ts'];
/** They compare with what the README shows: asked last, so that whatever another test knows falls to that one. */
const LAST: readonly string[] = ['tests/cli/readme.test.ts'];

export interface TestFile {
  readonly name: string;
  /** Files that it imports, itself included, and through how many imports. */
  readonly reach: ReadonlyMap<string, number>;
  /** Runs the bundled program: knows of a change only after a build. */
  readonly startsProgram: boolean;
  /** Of all that it imports; of the whole of src/ and examples/ too where it starts the program. */
  readonly hash: string;
  /** Of what it imports under tests/. */
  readonly ownHash: string;
}

const STARTS_PROGRAM = /\b(?:datumlight|executable)\(|bin\/datumlight|(?<![\w-]\/)\bdist\/|execFile\('sh'/;
const CALLS_PROGRAM = 'tests/cli/support/run.ts';

/** Every test of `npm test` but the goldens. */
export function testFiles(): readonly TestFile[] {
  const all = filesUnder('tests').filter((name) => /(?<!\.long)\.test\.ts$/.test(name));
  const program = hashOf([...filesUnder('src'), ...filesUnder('examples'), 'README.md'].filter(existsSync));
  return all
    .filter((name) => !GOLDEN_TESTS.includes(name))
    .map((name) => {
      const reach = reachOf(name);
      const own = [...reach.keys()].filter((file) => file.startsWith('tests/') && file !== CALLS_PROGRAM);
      const startsProgram = own.some((file) => STARTS_PROGRAM.test(textOf(file)));
      const imported = hashOf([...reach.keys()].sort());
      const hash = startsProgram ? `${imported} ${program}` : imported;
      const ownHash = hashOf([...reach.keys()].filter((file) => file.startsWith('tests/')).sort());
      return { name, reach, startsProgram, hash, ownHash };
    });
}

/** Tests that need no build, then those that do; each the nearest and quickest first. `seconds` are known from a run without mutants. */
export function testsOf(
  file: string,
  tests: readonly TestFile[],
  seconds: (test: TestFile) => number,
): { readonly near: readonly TestFile[]; readonly far: readonly TestFile[] } {
  const sameRoom = (test: TestFile): number => (test.name.split('/')[1] === file.split('/')[1] ? 0 : 2);
  const rank = (test: TestFile): number =>
    (LAST.includes(test.name) ? 1000 : 0) +
    (test.reach.get(file) ?? 8) +
    sameRoom(test) +
    Math.log2(1 + 2 * seconds(test));
  const inOrder = (some: readonly TestFile[]): readonly TestFile[] =>
    some.toSorted((a, b) => rank(a) - rank(b) || (a.name < b.name ? -1 : 1));
  return {
    near: inOrder(tests.filter((test) => !test.startsProgram && test.reach.has(file))),
    far: inOrder(tests.filter((test) => test.startsProgram)),
  };
}

const texts = new Map<string, string>();
function textOf(file: string): string {
  let text = texts.get(file);
  if (text === undefined) {
    text = readFileSync(file, 'utf8');
    texts.set(file, text);
  }
  return text;
}

const imports = new Map<string, readonly string[]>();
/** What a file imports of the project, types left out. */
function importsOf(file: string): readonly string[] {
  let found = imports.get(file);
  if (found === undefined) {
    const named = /\.(ts|mjs)$/.test(file)
      ? [
          ...textOf(file).matchAll(
            /^(?:import|export)(?! type)[^;]*?from\s+'(\.[^']+)'|import\('(\.[^']+)'\)/gm,
          ),
        ]
      : [];
    found = named
      .map(([, fixed, onDemand]) =>
        normalize(join(dirname(file), fixed ?? onDemand))
          .split(sep)
          .join('/'),
      )
      .filter(existsSync);
    imports.set(file, found);
  }
  return found;
}

function reachOf(test: string): ReadonlyMap<string, number> {
  const reach = new Map([[test, 0]]);
  for (const [file, distance] of reach) {
    for (const next of importsOf(file)) if (!reach.has(next)) reach.set(next, distance + 1);
  }
  return reach;
}

function filesUnder(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).split(sep).join('/'))
    .filter((name) => !name.includes('/goldens/') && !name.includes('.diff.'))
    .sort();
}

export function hashOf(files: readonly string[]): string {
  const hash = createHash('sha256');
  for (const file of files) hash.update(file).update('\0').update(readFileSync(file)).update('\0');
  return hash.digest('hex').slice(0, 16);
}
