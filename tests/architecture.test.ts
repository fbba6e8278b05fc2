/**
 * The house as data: which room of src/ may import which, and which rooms may touch files, the clock or the terminal. The rooms
 * stand in the order in which data flows; so do the folders within a room.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';
import { expect, test } from 'vitest';
import { KINDS } from '../src/kinds/kinds.ts';

const above = (...rooms: string[]): readonly string[] => rooms;
const TO_DESIGN = above(
  'quantity',
  'finding',
  'geometry',
  'algebra',
  'optics',
  'kinds',
  'scenario',
  'design',
);
const TO_RULES = [...TO_DESIGN, 'metrology', 'pattern', 'rules'];
const TO_WRITING = [...TO_RULES, 'readback', 'planning', 'writing', 'reading'];

const MAY_IMPORT: Record<string, readonly string[]> = {
  // Of algebra the functions that round alike in every engine.
  quantity: above('algebra'),
  finding: above('quantity'),
  geometry: above('algebra'),
  algebra: [],
  optics: above('geometry', 'algebra'),
  // Below `scenario`, whose references are what the kinds say of them: so that a kind is one file.
  kinds: above('geometry', 'optics'),
  scenario: above('quantity', 'finding', 'geometry', 'algebra', 'kinds'),
  reading: above('quantity', 'finding', 'kinds', 'scenario'),
  design: TO_DESIGN,
  metrology: TO_DESIGN,
  pattern: TO_DESIGN,
  readback: TO_DESIGN,
  rules: [...TO_DESIGN, 'metrology'],
  planning: TO_RULES,
  writing: [...TO_RULES, 'readback'],
  disk: TO_WRITING,
  // What runs in the operator's browser: nothing imports it but the build, which makes a page of it.
  'bench-page': TO_WRITING,
  batch: [...TO_WRITING, 'disk'],
  cli: [...TO_WRITING, 'disk', 'batch'],
};

/** Folders of a room or a folder, from the ground up: a file imports only from its own and from those before it; `.` is what has none. */
const FOLDERS: Record<string, readonly string[]> = {
  metrology: [
    ...['sensing', 'sight', 'contact', 'camera', 'stray', 'reach'],
    ...[
      'budget',
      'rings',
      'estimate',
      'null',
      'location',
      'frame',
      'steering',
      'transfer',
      'job',
      'alignment',
    ],
  ],
  // A scenario names tables: the heights of a surface.
  reading: ['generated', 'yaml', 'tables', 'scenario', 'bench', 'frames'],
  writing: [
    ...['.', 'page', 'drawing', 'pattern', 'picture', 'coefficients', 'report', 'reach', 'mapping'],
    ...[
      'motions',
      'bench',
      'sheet',
      'steering',
      'frame',
      'session',
      'transfer',
      'record',
      'batch',
      'difference',
      'fabrication',
      'bench-page',
      'package',
    ],
  ],
  'writing/drawing': ['.', 'captions', 'sheet', 'formats'],
};

/** More files than this in one folder want folders of their own. src/rules sets it: a rule is one file, and no group of them stands out. */
const MOST_FILES = 30;

/** Rooms that may touch the world outside the program. */
const WORLDLY = new Set(['disk', 'batch', 'cli']);
const WORLD =
  /from 'node:(fs|process|os|child_process|worker_threads|tty|readline|net|http)|\bDate\.now|new Date|\bprocess\.(env|argv|std|cwd|exit|platform|hrtime|memoryUsage)|\bconsole\.|Math\.random/;

const files = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts') && !name.includes('generated'))
  .map((name) => `src/${name.replaceAll('\\', '/')}`);
const roomOf = (file: string): string => file.split('/')[1];

/** Comments out of the way: prose may speak of anything. */
const code = (file: string): string => readFileSync(file, 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');

test('there are files to look at, and every one is in a known room', () => {
  expect(files.length).toBeGreaterThan(50);
  expect(files.filter((file) => !(roomOf(file) in MAY_IMPORT))).toEqual([]);
});

/** Every file of src/ that another one imports, as `[importer, imported]`. */
const imports = files.flatMap((file) =>
  [...code(file).matchAll(/(?:from|import\()\s*'(\.{1,2}\/[^']+)'/g)]
    .map(([, target]) => [file, relative('.', normalize(join(dirname(file), target)))] as const)
    .filter(([, target]) => target.startsWith('src/')),
);

test('imports run one way from room to room', () => {
  const wrong = imports
    .filter(([file, target]) => roomOf(file) !== roomOf(target))
    .filter(([file, target]) => !MAY_IMPORT[roomOf(file)].includes(roomOf(target)))
    .map(([file, target]) => `${file} imports ${target}`);
  expect(imports.length).toBeGreaterThan(500);
  expect(wrong).toEqual([]);
});

test('imports run one way from folder to folder of a room', () => {
  for (const [parent, folders] of Object.entries(FOLDERS)) {
    const isInside = (file: string): boolean => file.startsWith(`src/${parent}/`);
    const folderOf = (file: string): string => {
      const [folder, ...rest] = file.slice(`src/${parent}/`.length).split('/');
      return rest.length === 0 ? '.' : folder;
    };
    const inside = files.filter(isInside);
    expect(inside.length).toBeGreaterThan(10);
    expect(inside.filter((file) => !folders.includes(folderOf(file)))).toEqual([]);
    const wrong = imports
      .filter(([file, target]) => isInside(file) && isInside(target))
      .filter(([file, target]) => folders.indexOf(folderOf(target)) > folders.indexOf(folderOf(file)))
      .map(([file, target]) => `${file} imports ${target}`);
    expect(wrong).toEqual([]);
  }
});

test(`no folder holds more than ${MOST_FILES} files`, () => {
  const count = new Map<string, number>();
  for (const file of files) count.set(dirname(file), (count.get(dirname(file)) ?? 0) + 1);
  expect([...count].filter(([, held]) => held > MOST_FILES)).toEqual([]);
});

test('only disk, batch and cli touch files, the clock, the terminal or chance', () => {
  const wrong = files.filter((file) => !WORLDLY.has(roomOf(file)) && WORLD.test(code(file)));
  expect(wrong).toEqual([]);
});

/** Which room may import which library; Node's own modules aside. */
const LIBRARIES: Record<string, readonly string[]> = {
  '@tarikjabiri/dxf': ['writing'],
  commander: ['cli'],
  'fast-png': ['reading', 'writing'],
  flatbush: ['geometry'],
  makerjs: ['writing'],
  mathjs: ['quantity'],
  'ml-matrix': ['algebra'],
  picocolors: ['finding'],
  tiff: ['reading'],
  tinyglobby: ['batch'],
  yaml: ['reading'],
};

test('each room imports its own libraries only', () => {
  const wrong = files.flatMap((file) =>
    [
      ...code(file).matchAll(
        /^(?:import|export|})(?:.*? from)? '((?!node:)[^.'][^']*)'|import\('((?!node:)[^.'][^']*)'/gm,
      ),
    ]
      .map(([, fixed, onDemand]) => (fixed ?? onDemand).match(/^(?:@[^/]+\/)?[^/]+/)![0])
      .filter((library) => !LIBRARIES[library]?.includes(roomOf(file)))
      .map((library) => `${file} imports ${library}`),
  );
  expect(wrong).toEqual([]);
});

/** What else these words mean in src/: a seat's ball, the optics of a ball, the subject of a difference. */
const MOST_FILES_NAMING_KINDS = 14;

test(`the kinds of reference are told apart in src/kinds: their names stand in at most ${MOST_FILES_NAMING_KINDS} files`, () => {
  const named = new RegExp(`'(${KINDS.map(({ kind }) => kind).join('|')})'`);
  // A key of a scenario is no kind.
  const naming = files.filter((file) => named.test(code(file).replace(/(get\(|field\.path, )'\w+'\)/g, '')));
  expect(naming.filter((file) => roomOf(file) === 'kinds').length).toBeGreaterThanOrEqual(KINDS.length);
  expect(naming.length, naming.join('\n')).toBeLessThanOrEqual(MOST_FILES_NAMING_KINDS);
  // optics has a union of its own: what a ray meets.
  const compared = /\breference\??\.kind [!=]==/;
  expect(files.filter((file) => roomOf(file) !== 'optics' && compared.test(code(file)))).toEqual([]);
});

test('a file is one idea: none is longer than 300 lines', () => {
  const long = files.filter((file) => readFileSync(file, 'utf8').split('\n').length > 300);
  expect(long).toEqual([]);
});

test('no quick test puts a mock in a module’s place: test files of a worker share the modules that it has loaded', () => {
  const tests = readdirSync('tests', { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.test.ts'),
  );
  expect(tests.length).toBeGreaterThan(300);
  const mocking = tests.filter((name) => /\bvi\.(do)?[mM]ock\(/.test(code(join('tests', name))));
  expect(mocking).toEqual([]);
});
