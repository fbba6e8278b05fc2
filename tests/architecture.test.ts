/**
 * The house as data: which room of src/ may import which, and which rooms may touch files, the clock or the terminal. The rooms
 * stand in the order in which data flows. An exception names the file, the room it reaches and why.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';
import { expect, test } from 'vitest';

const above = (...rooms: string[]): readonly string[] => rooms;
const TO_DESIGN = above('quantity', 'finding', 'geometry', 'algebra', 'optics', 'scenario', 'design');
const TO_RULES = [...TO_DESIGN, 'metrology', 'pattern', 'rules'];

const MAY_IMPORT: Record<string, readonly string[]> = {
  quantity: [],
  finding: above('quantity'),
  geometry: [],
  algebra: [],
  optics: above('geometry', 'algebra'),
  scenario: above('quantity', 'finding', 'geometry'),
  reading: above('quantity', 'finding', 'scenario'),
  design: TO_DESIGN,
  metrology: TO_DESIGN,
  pattern: TO_DESIGN,
  rules: [...TO_DESIGN, 'metrology'],
  planning: TO_RULES,
  writing: [...TO_RULES, 'planning'],
  batch: [...TO_RULES, 'planning', 'writing', 'reading'],
  cli: [...TO_RULES, 'planning', 'writing', 'reading', 'batch'],
};

/** `file -> room`, with the reason. */
const EXCEPTIONS: Record<string, string> = {};

/** Rooms that may touch the world outside the program. */
const WORLDLY = new Set(['batch', 'cli']);
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

test('imports run one way', () => {
  const wrong: string[] = [];
  for (const file of files) {
    for (const [, target] of code(file).matchAll(/(?:from|import\()\s*'(\.{1,2}\/[^']+)'/g)) {
      const reached = roomOf(relative('.', normalize(join(dirname(file), target))));
      const room = roomOf(file);
      if (reached === room || reached === undefined || target.endsWith('package.json')) continue;
      if (!MAY_IMPORT[room].includes(reached) && !(`${file} -> ${reached}` in EXCEPTIONS)) {
        wrong.push(
          `${file} imports ${target}: ${room} may import ${MAY_IMPORT[room].join(', ') || 'nothing'}`,
        );
      }
    }
  }
  expect(wrong).toEqual([]);
});

test('only batch and cli touch files, the clock, the terminal or chance', () => {
  const wrong = files.filter((file) => !WORLDLY.has(roomOf(file)) && WORLD.test(code(file)));
  expect(wrong).toEqual([]);
});

test('only reading knows YAML and schemas', () => {
  const wrong = files.filter((file) => roomOf(file) !== 'reading' && /from '(yaml|ajv)/.test(code(file)));
  expect(wrong).toEqual([]);
});

test('a file is one idea: none is longer than 300 lines', () => {
  const long = files.filter((file) => readFileSync(file, 'utf8').split('\n').length > 300);
  expect(long).toEqual([]);
});
