/**
 * Texts of a user's that would do harm where they are shown: titles, drawing numbers, ids, names of files, arguments. Each goes through
 * every command; nothing that reaches the terminal or a file may move a cursor, turn the writing direction, be markup, or be a formula
 * where a spreadsheet opens it. What is raw is told here by Unicode's own lists, not by the program's.
 */
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, test } from 'vitest';
import { datumlight, folder, type Outcome, openScenario, soundScenario } from './support/run.ts';

/** Cc but LF, and CR before it; Bidi_Control of Unicode 15; Cf that shows nothing; separators of lines. */
const RAW =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  /(?!\n|\r\n)[\0-\x1f\x7f-\x9f]|[\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]/;
/** The hostile marks below in the bytes of UTF-8, long enough that no coordinate of a binary file looks like them. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: the escape character is looked for
const RAW_BYTES = /\xe2\x80\xae\xe2\x80\x8b|\x1b\[31m/;
const MARKS = '\x1b[31m\u202e\u200b\x9b2J\x07';
const MARKUP = `<script>alert(7)</script>"onload="alert(7)`;
const FORMULA = "=cmd|' /C calc'!A0";

const quoted = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: YAML has escapes for them
  `"${text.replaceAll('"', '\\"').replace(/[\0-\x1f\x7f-\x9f\u200b\u202e]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`)}"`;
const TITLE = `title: ${quoted(`${FORMULA}${MARKS}${MARKUP}`)}\n`;
const hostile = (text: string): string =>
  text
    .replace(/title: .*\n/, TITLE)
    .replace(
      'light:',
      `drawing: {number: ${quoted(`@A1${MARKS}`)}, revision: ${quoted(`-1+2${MARKS}`)}}\nlight:`,
    )
    .replace('references:', `part: {envelope: [{mesh: {file: ${quoted(MESH)}}}]}\nreferences:`);
const MESH = `+me${MARKS}<b>.stl`;
const STL =
  'solid s\nfacet normal 0 0 1\nouter loop\nvertex 900 80 1400\nvertex 901 80 1400\nvertex 900 300 1400\nendloop\nendfacet\nendsolid s\n';

/** A name that `check` and `make` take from a shell, and one that a batch takes. */
const FILE = `=a${MARKS}\nb<b>.yaml`;
const BATCHED = `=1+2&'x'.yaml`;
let dir: string;

beforeAll(() => {
  dir = folder();
  writeFileSync(join(dir, FILE), hostile(soundScenario()));
  writeFileSync(join(dir, BATCHED), hostile(soundScenario()));
  writeFileSync(
    join(dir, `open${FILE}`),
    openScenario()
      .replace(/title: .*\n/, TITLE)
      .replace('references:', 'wanted: {x: 1 mm}\nreferences:'),
  );
  writeFileSync(join(dir, MESH), STL);
  const inner = join(dir, `-d${MARKS}`);
  mkdirSync(inner);
  writeFileSync(join(inner, '@x.yaml'), soundScenario().replace('632.8 nm', quoted(`632.8 n${MARKS}`)));
});

const used = new Set<string>();
const run = (...args: string[]): Promise<Outcome> => {
  used.add(args[0]!);
  return datumlight(args, { cwd: dir });
};

function expectTame({ code, stdout, stderr }: Outcome): void {
  expect(code).not.toBe(70);
  expect(code).not.toBeNull();
  expect(stderr).not.toMatch(RAW);
  expect(stdout).not.toMatch(RAW);
}

const startsFormula = (cell: string): boolean =>
  /^ *[=+\-@\t\r]/.test(cell) && !/^[+-](\d|\.\d)[\d.e+-]*( \S+)?$/.test(cell);

/** The bench page has a program of its own, and its data as JSON, in which no `<` stands. */
const withoutOwnScripts = (page: string): string =>
  page
    .replace(/<script>[\s\S]*?<\/script>/, '')
    .replace(/<script type="application\/json" id="(job|scenario)">[^<]*<\/script>/g, '');

/** Every file of a folder, by what its format would do with a text. */
function expectTameFiles(root: string): string[] {
  const names = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((name) =>
    statSync(join(root, name)).isFile(),
  );
  for (const name of names) {
    const bytes = readFileSync(join(root, name));
    expect(bytes.toString('latin1'), name).not.toMatch(RAW_BYTES);
    if (/\.(gds|oas|png|pdf)$/.test(name)) {
      // The title of a PDF is UTF-16.
      if (name.endsWith('pdf'))
        expect(bytes.toString('latin1')).not.toMatch(/\/Title <[^>]*(202e|200b|001b)/i);
      continue;
    }
    const text = bytes.toString('utf8');
    expect(text, name).not.toMatch(RAW);
    if (name.endsWith('dxf')) expect(text).not.toMatch(/\\U\+(202E|200B|001B|009B)/i);
    if (/\.(html|svg)$/.test(name)) {
      const markup = name.endsWith('bench.html') ? withoutOwnScripts(text) : text;
      expect(markup, name).not.toMatch(/<script|"onload="|<b>/);
      for (const [, cell] of markup.matchAll(/<t[dh][^>]*>([^<]*)/g))
        if (!/^[+-]r?[xyz]$/.test(cell!)) expect(startsFormula(cell!), `${name}: ${cell}`).toBe(false);
    }
    if (name.endsWith('csv')) {
      const rows = parse(text, {
        comment: '#',
        comment_no_infix: true,
        relax_column_count: true,
      }) as string[][];
      expect(rows.flat().filter(startsFormula), name).toEqual([]);
    }
    if (name.endsWith('md')) {
      const cells = text
        .split('\n')
        .filter((line) => line.startsWith('|'))
        .flatMap((line) => line.split(/(?<!\\)\|/));
      expect(
        cells
          .map((cell) => cell.trim())
          .filter((cell) => !/^-*$/.test(cell))
          .filter(startsFormula),
      ).toEqual([]);
      expect(text).not.toMatch(/<script|<b>/);
    }
  }
  return names;
}

test('check, and make with every format: no text of the scenario reaches an output raw', async () => {
  expectTame(await run('check', FILE));
  expectTame(await run('check', FILE, '--json'));
  const out = `out${MARKS}`;
  const made = await run('make', FILE, '--out', out, '--draft', '--pattern', 'gds', 'oas');
  expectTame(made);
  expect(made.stdout).toContain('wrote');
  const names = expectTameFiles(join(dir, out));
  for (const kind of ['csv', 'json', 'dxf', 'svg', 'pdf', 'html'])
    expect(
      names.some((name) => name.endsWith(`.${kind}`)),
      kind,
    ).toBe(true);
  // The title is there, made harmless.
  expect(readFileSync(join(dir, out, 'sheet.html'), 'utf8')).toContain('&lt;script&gt;alert(7)');
  expectTame(await run('check', FILE, '--table', join(out, 'coefficients.csv')));
  expectTame(await run('make', FILE, '--out', FILE));
});

test('fringes, phase and plan', async () => {
  expectTame(await run('fringes', FILE, '--out', `fr${MARKS}`, '--size', '32'));
  expectTameFiles(join(dir, `fr${MARKS}`));
  writeFileSync(join(dir, `=p${MARKS}.csv`), 'x_mm,y_mm\n0,60\n');
  expectTame(await run('phase', FILE, '--patch', 'north-1', '--points', `=p${MARKS}.csv`));
  const planned = await run('plan', `open${FILE}`, '--out', `planned${MARKS}.yaml`, '--reach', 'reach.svg');
  expectTame(planned);
  expect(planned.stdout).toContain('planned');
  mkdirSync(join(dir, 'reached'));
  writeFileSync(join(dir, 'reached', 'reach.svg'), readFileSync(join(dir, 'reach.svg')));
  expectTameFiles(join(dir, 'reached'));
});

test('read: the scenario’s title and the frame’s name reach neither the terminal nor a file raw', async () => {
  expectTame(await run('fringes', FILE, '--out', 'frames', '--size', '16', '--camera'));
  const frame = `=f${MARKS}<b>.png`;
  writeFileSync(join(dir, frame), readFileSync(join(dir, 'frames', 'frame-aligned.png')));
  mkdirSync(join(dir, 'read'));
  for (const json of [[], ['--json']]) {
    const outputs = ['--out', 'read/readings.yml', '--overlay', 'read/fitted.svg'];
    const outcome = await run('read', FILE, frame, ...outputs, ...json);
    expectTame(outcome);
    expect(outcome.code).toBe(0);
  }
  expectTame(await run('read', FILE, frame, '--out', '-'));
  expectTame(await run('steer', FILE, '--frame', frame));
  expect(expectTameFiles(join(dir, 'read')).sort()).toEqual(['fitted.svg', 'readings.yml']);
});

test('record: no text of the log reaches the terminal or the page raw', async () => {
  const scenario = resolve('examples/steer-mirror-on-stage.yaml');
  await run('make', scenario, '--out', 'mirror');
  const word = quoted(`${FORMULA}${MARKS}${MARKUP}`);
  const words = ['serial', 'date', 'part', 'operator', 'witness', 'remarks'].map((key) => `${key}: ${word}`);
  const steps = `steps: [${word}, {step: hologram, at: ${word}, by: ${word}, note: ${word}}]`;
  const readings = 'before: [{patch: north-near, fringes: 0.1}, {patch: north-far, fringes: -0.1}]';
  writeFileSync(join(dir, 'log.yml'), [...words, steps, readings, ''].join('\n'));
  const out = `record${MARKS}`;
  const made = await run('record', scenario, '--log', 'log.yml', '--package', 'mirror', '--out', out);
  expectTame(made);
  expect(made.stdout).toContain('wrote');
  expect(expectTameFiles(join(dir, out)).sort()).toEqual(['record.html', 'record.json']);
  expect(readFileSync(join(dir, out, 'record.html'), 'utf8')).toContain('&lt;script&gt;alert(7)');
  const checked = await run('record', scenario, '--check', join(out, 'record.json'), '--package', 'mirror');
  expectTame(checked);
  expect(checked.code).toBe(0);
});

test('a batch, its summaries, verdicts and Markdown; gathering shards', async () => {
  const files = [BATCHED, `./-d${MARKS}/@x.yaml`];
  const batch = (...more: string[]) => run('batch', ...files, '--out', 'packages', '--no-cache', ...more);
  expectTame(await batch());
  expectTameFiles(join(dir, 'packages'));
  const [, ...rows] = parse(readFileSync(join(dir, 'packages', 'summary.csv'), 'utf8')) as string[][];
  expect(rows.map(([, name]) => name).sort()).toEqual(["'=1+2&'x'", "'@x"]);
  // Another title and number, so that --verify has both to tell of.
  writeFileSync(
    join(dir, BATCHED),
    hostile(soundScenario())
      .replace('calc', 'calc2')
      .replace('@A1', '@A2')
      .replace('centre: [60, 0]', 'centre: [61, 0]'),
  );
  const verdicts = join(dir, `verdicts`);
  const verified = await batch('--verify', '--markdown', 'verdicts/moved.md', '--overlay', 'verdicts');
  expectTame(verified);
  expect(verified.code).toBe(3);
  expect(verified.stdout).toContain('calc2');
  expect(expectTameFiles(verdicts)).toHaveLength(2);
  expectTame(await batch('--verify', '--json'));
  expectTame(await batch('--verify', '--markdown', '-'));
  expectTame(await run('batch', '--gather', 'packages', '--out', 'joined'));
  expectTameFiles(join(dir, 'joined'));
});

describe('arguments and files that cannot be used', () => {
  const word = `${FORMULA}${MARKS}\n${MARKUP}`;
  const MIRROR = resolve('examples/steer-mirror-on-stage.yaml');
  const RIM = resolve('examples/transfer-mirror-on-rim.yaml');
  test.each([
    ['check', word],
    ['check', '--json', word],
    ['make', word, '--out', word],
    ['make', FILE, '--out', word, '--pattern', word],
    ['batch', word, '--out', word],
    ['batch', `${word}*`, '--out', word],
    ['batch', FILE, '--out', word, '--shard', word, '--jobs', word],
    ['batch', '--gather', word, '--out', word],
    ['plan', word, '--out', word],
    ['fringes', FILE, '--out', 'x', '--patch', word, '--size', word],
    ['phase', FILE, '--patch', word, '--points', word],
    ['steer', MIRROR, '--readings', word],
    ['steer', MIRROR, '--frame', word],
    ['read', MIRROR, word],
    ['read', MIRROR, '--watch', word],
    ['read', FILE, 'frame.pgm', '--out', word, '--overlay', word],
    ['transfer', RIM, '--points', word],
    ['record', MIRROR, '--log', word, '--package', word, '--out', word],
    ['record', MIRROR, '--check', word, '--package', word],
    ['explain', word],
    ['completion', word],
    [word],
    ['check', `--${word}`],
  ])('%j', async (...args) => {
    const outcome = await run(...args);
    expectTame(outcome);
    expect(outcome.code).toBe(2);
  });

  test.each([
    ['steer', MIRROR, '--readings', `readings:\n  - {patch: ${quoted(word)}, fringes: 1}\n`],
    ['steer', MIRROR, '--readings', `${quoted(word)}: 3\n`],
    ['transfer', RIM, '--points', `point,range_mm,azimuth_deg,elevation_deg\n"${MARKS}=1",1,2,3\n`],
    [
      'check',
      resolve('examples/diverging-balls.yaml'),
      '--table',
      `patch,basis,index,i,j,coefficient_waves\n=x${MARKS},xy${MARKS},0,0,0,1\n`,
    ],
    ['phase', resolve('examples/diverging-balls.yaml'), '--points', `x_mm,y_mm${MARKS}\n1,=2\n`],
    ['check', '', '', soundScenario().replace('id: north,', `id: ${quoted(`north${MARKS}`)},`)],
    ['check', '', '', `${soundScenario()}\n${quoted(word)}: 3\n`],
  ])('%s of a hostile file', async (command, file, option, text) => {
    const input = join(dir, `in${MARKS}.txt`);
    writeFileSync(input, text);
    const patch = command === 'phase' ? ['--patch', 'north'] : [];
    for (const json of [[], ['--json']]) {
      const outcome = await run(
        command,
        ...(file === '' ? [input] : [file, option, input]),
        ...patch,
        ...json,
      );
      expectTame(outcome);
      expect(outcome.code).toBeGreaterThan(0);
    }
  });
});

test('no command is left out above', async () => {
  const { stdout } = await datumlight(['--help']);
  const commands = [...stdout.split('Commands:')[1]!.matchAll(/^ {2}([a-z]+) /gm)].map(([, name]) => name!);
  expect(commands.length).toBeGreaterThanOrEqual(10);
  expect(commands.filter((name) => name !== 'help' && !used.has(name))).toEqual([]);
});
