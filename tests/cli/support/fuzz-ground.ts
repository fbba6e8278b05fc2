/**
 * The folder that the fuzz works in: what commands read beside stdin, and what they write, told apart by command. Shards are made once by the
 * program itself; an input replaces files of them, and they are put back after it.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { expect } from 'vitest';
import type { Asked } from './fuzz-asked.ts';
import { STEERED } from './fuzz-bench.ts';
import type { Ask } from './fuzz-program.ts';
import { folder, soundScenario } from './run.ts';
import { wholePackage } from './whole-package.ts';

/** What `batch --shard` wrote, by paths in the ground. */
export interface Shards {
  /** The two summaries, without the folder that they were made in: the same in every run. */
  readonly summaries: Readonly<Record<string, string>>;
  /** Files of one package. */
  readonly packages: Readonly<Record<string, Uint8Array>>;
  /** Of an alignment of STEERED with the package in the ground. */
  readonly record: string;
}

/** By their names in both shards: two in the one, one in the other. */
const SCENARIOS = ['s0', 's1', 's2'];
const SHARDS = ['1', '2'];
/** Files of a package of the first shard that an input may change. */
const BENT = ['manifest.json', 'coefficients.csv'];
/** Folders of the ground; nothing else may ever appear beside them. */
const ROOMS = [
  'batch',
  'in',
  'joined',
  'out',
  'package',
  'pictures',
  'planned',
  'recorded',
  'scenarios',
  'shards',
];
/** Packages of a batch kept before the folder is emptied. */
const MOST_KEPT = 12;

export class Ground {
  readonly dir: string;
  readonly #base = new Map<string, Uint8Array>();

  constructor() {
    this.dir = folder();
  }

  path(...steps: readonly string[]): string {
    return join(this.dir, ...steps);
  }

  argv({ argv }: Asked): readonly string[] {
    return argv.map((word) => (word.startsWith('@/') ? this.path(word.slice(2)) : word));
  }

  /** Makes the shards. */
  async ready(ask: Ask): Promise<Shards> {
    for (const room of ['in', 'planned', 'scenarios', 'shards']) mkdirSync(this.path(room));
    const files = SCENARIOS.map((name) => this.path('scenarios', `${name}.yaml`));
    for (const file of files) writeFileSync(file, soundScenario());
    const summaries: Record<string, string> = {};
    for (const shard of SHARDS) {
      const out = this.path('shards', shard);
      const argv = ['batch', ...files, '--out', out, '--no-cache', '--shard', `${shard}/${SHARDS.length}`];
      const { code, stderr } = await ask({ argv, input: Buffer.from('') });
      expect({ code, stderr }).toMatchObject({ code: 0 });
      const path = `shards/${shard}/summary.json`;
      summaries[path] = readFileSync(this.path(path), 'utf8').replaceAll(`${this.dir}/`, '');
      this.#base.set(path, Buffer.from(summaries[path]));
      writeFileSync(this.path(path), summaries[path]);
    }
    const name = readdirSync(this.path('shards/1')).find((one) => SCENARIOS.includes(one))!;
    const packages = Object.fromEntries(
      BENT.map((file) => {
        const path = `shards/1/${name}/${file}`;
        const bytes = readFileSync(this.path(path));
        this.#base.set(path, bytes);
        return [path, bytes];
      }),
    );
    return { summaries, packages, record: await this.#recorded(ask) };
  }

  /** Makes the package of STEERED and a record with it. */
  async #recorded(ask: Ask): Promise<string> {
    const { file } = STEERED;
    const log = file.replace('.yaml', '.log.yml');
    for (const argv of [
      ['make', file, '--out', this.path('package')],
      ['record', file, '--log', log, '--package', this.path('package'), '--out', this.path('recorded')],
    ])
      expect(await ask({ argv, input: Buffer.from('') })).toMatchObject({ code: 0 });
    const record = readFileSync(this.path('recorded', 'record.json'), 'utf8');
    rmSync(this.path('recorded'), { recursive: true });
    return record;
  }

  place({ files }: Asked): void {
    for (const [path, bytes] of Object.entries(files)) {
      mkdirSync(dirname(this.path(path)), { recursive: true });
      writeFileSync(this.path(path), bytes);
    }
  }

  /** The inputs taken away again, the shards as they were; folders that have grown are emptied. */
  restore({ files }: Asked): void {
    for (const path of Object.keys(files)) {
      const base = this.#base.get(path);
      if (base === undefined) rmSync(this.path(path), { force: true });
      else writeFileSync(this.path(path), base);
    }
    rmSync(this.path('recorded'), { recursive: true, force: true });
    for (const room of ['batch', 'joined']) {
      if (existsSync(this.path(room)) && readdirSync(this.path(room)).length > MOST_KEPT)
        rmSync(this.path(room), { recursive: true });
    }
  }

  /** What a command has written so far: throws where a package is not whole, or something is left half done. */
  standing(use: Asked['use']): string {
    const rooms = readdirSync(this.dir);
    expect(rooms.filter((room) => !ROOMS.includes(room))).toEqual([]);
    switch (use) {
      case 'make':
      case 'draft':
        return wholePackage(this.path('out'));
      case 'fringes':
        return wholePackage(this.path('pictures'));
      case 'record':
        return existsSync(this.path('recorded')) ? readdirSync(this.path('recorded')).sort().join(', ') : '';
      case 'plan':
        return filesIn(this.path('planned'), ['plan.yaml', 'reach.svg']);
      case 'batch':
      case 'verify':
        return packagesIn(this.path('batch'));
      case 'gather':
        return packagesIn(this.path('joined'));
      default:
        return '';
    }
  }
}

function filesIn(dir: string, known: readonly string[]): string {
  const names = readdirSync(dir);
  expect(names.filter((name) => !known.includes(name))).toEqual([]);
  return names.map((name) => `${name}: ${readFileSync(join(dir, name), 'latin1')}`).join('\n');
}

/** Each package below, whole; and the summary, whole too. */
function packagesIn(dir: string): string {
  if (!existsSync(dir)) return 'absent';
  const found = readdirSync(dir, { recursive: true, encoding: 'utf8' }).sort();
  expect(found.filter((path) => /(^|\/)\./.test(path))).toEqual([]);
  const packages = found.filter((path) => path.endsWith('manifest.json')).map(dirname);
  const summary = ['summary.csv', 'summary.json', 'overview.html'].filter((name) => found.includes(name));
  expect([0, 3]).toContain(summary.length);
  const said = summary.length === 0 ? '' : readFileSync(join(dir, 'summary.json'), 'utf8');
  if (said !== '') {
    JSON.parse(said);
    cellsAreHarmless(readFileSync(join(dir, 'summary.csv'), 'utf8'));
  }
  // Cases of an earlier sweep stay where they are when the same scenario is made without its sweep.
  const casesIn = (path: string): readonly string[] => [
    ...new Set(
      packages
        .filter((one) => one.startsWith(`${path}/`))
        .map((one) => one.slice(path.length + 1).split('/')[0]!),
    ),
  ];
  return [said, ...packages.map((path) => `${path}: ${wholePackage(join(dir, path), casesIn(path))}`)].join(
    '\n',
  );
}

/** No cell that a spreadsheet would take for a formula, and no sign that hides or turns letters. */
function cellsAreHarmless(csv: string): void {
  for (const cell of (parse(csv) as string[][]).flat()) {
    if (!Number.isFinite(Number(cell))) expect(cell).not.toMatch(/^[=+\-@]|\p{Cc}|\p{Bidi_Control}/u);
  }
}
