/** `batch PATTERN… --out DIR`: many scenarios, or one swept; `--verify` compares, `--shard` makes a share, `--gather` joins the shards. */
import { availableParallelism, homedir } from 'node:os';
import { join } from 'node:path';
import process from 'node:process';
import { DEFAULT_BOUND } from '../../batch/cache.ts';
import { findScenarios } from '../../batch/find-scenarios.ts';
import { gather } from '../../batch/gather.ts';
import { listCases } from '../../batch/list-cases.ts';
import { type Making, programFingerprint } from '../../batch/make-case.ts';
import { packageNameFaults } from '../../batch/package-names.ts';
import { type BatchProgress, parseShard, runBatch } from '../../batch/run-batch.ts';
import { runVerify } from '../../batch/run-verify.ts';
import { refusedFolder } from '../../disk/output-places.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { jsonText } from '../../writing/json.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import type { ExitCode, Io } from '../io.ts';
import { progressTo } from '../progress.ts';
import { countOf, refusing, sayFindings, sayLine } from '../say.ts';
import { VERSION } from '../version.ts';
import { sayTroubles, tally, worst } from './batch-outcomes.ts';
import { refusedReports, tellVerified, type VerifyOptions } from './batch-verified.ts';

interface BatchOptions extends VerifyOptions {
  readonly draft?: boolean;
  readonly jobs?: string;
  /** A folder, or false for `--no-cache`. */
  readonly cache?: string | false;
  readonly cacheSize?: string;
  readonly shard?: string;
  readonly gather?: boolean;
  readonly verify?: boolean;
}

export const registerBatch: Register = ({ program, io, end }) =>
  talkative(program.command('batch'))
    .argument(
      '<patterns...>',
      'scenarios, or patterns such as "scenarios/*.yaml"; with --gather, folders of shards',
    )
    .requiredOption('--out <dir>', 'folder for the packages, the summary and the overview')
    .option('--draft', 'write even if a rule is broken; each drawing is marked NOT FOR FABRICATION')
    .option('--jobs <count>', 'number of workers (default: one per core)')
    .option('--cache <dir>', "folder that keeps results (default: datumlight in the user's cache folder)")
    .option('--no-cache', 'make everything, keep nothing')
    .option('--cache-size <size>', 'evict least recently used results above this size (default: 2 GB)')
    .option('--shard <i/n>', 'only the i-th of n shards')
    .option('--gather', 'join the shards that --shard made')
    .option(
      '--verify',
      'compare with the existing packages in --out, each sheet with the camera it was made for; writes nothing there, exits 3 on a difference',
    )
    .option('--markdown <file>', 'with --verify: what changed, as Markdown; - for standard output')
    .option('--overlay <dir>', 'with --verify: old and new layouts overlaid, as SVG')
    .summary('make many scenarios, or one swept over parameters; cached, resumable')
    .description(
      'Makes the package of each scenario, and of each case of a scenario with a `sweep`, in a folder of its name under --out,\n' +
        'with summary.csv, summary.json and overview.html, the layouts side by side. A failing scenario does not stop the rest; the\n' +
        'exit code is the largest of all. A run that was stopped continues where it was.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight batch "scenarios/*.yaml" --out packages\n' +
        '  datumlight batch "scenarios/*.yaml" --out packages --verify --markdown moved.md\n' +
        '  datumlight batch sweep.yaml --out shard-2 --shard 2/4\n' +
        '  datumlight batch --gather shard-1 shard-2 shard-3 shard-4 --out packages',
    )
    .action((patterns: string[], options: BatchOptions) => end(batch(patterns, options, io)));

async function batch(patterns: readonly string[], options: BatchOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const asked = understood(options);
  if ('findings' in asked) return refuse(options.out, asked);
  if (options.gather) return gathered(patterns, options, io);

  const found = await findScenarios(patterns);
  if (found.files.length === 0) return refuse(options.out, found);
  const cache = cacheFolder(options, io);
  const misplaced = [
    ...packageNameFaults(found.files, options.out, [cache, options.markdown, options.overlay]),
    ...refusedFolders(options, found.files),
    ...refusedReports(options, found.files),
  ];
  if (misplaced.length > 0) return refuse(options.out, { findings: [...found.findings, ...misplaced] });
  const entries = listCases(found.files);
  const making: Making = {
    version: VERSION,
    program: programFingerprint(VERSION),
    draft: options.draft === true,
  };
  const request = { entries, out: options.out, making, ...asked, cache };
  const progress = progressTo(io.stderr, options.quiet === true);
  const troubles = { count: 0 };
  const report = ({ done, total, cached, row }: BatchProgress): void => {
    if (row.outcome !== 'fine') troubles.count++;
    const words = [
      cached > 0 ? `${cached} from the cache` : '',
      troubles.count > 0 ? `${troubles.count} with errors` : '',
    ].filter((word) => word !== '');
    progress.say(`${done}/${total}${words.map((word) => `, ${word}`).join('')}`, done === total);
  };
  const finished = interruptible(io, () => progress.end());
  try {
    if (options.verify) {
      const verified = await runVerify(request, report);
      progress.end();
      say(found.findings, options, io);
      return tellVerified(verified, found.findings.length > 0, options, io);
    }
    const result = await runBatch(request, report);
    progress.end();
    const findings = [...found.findings, ...result.findings];
    say(findings, options, io);
    sayTroubles(result.rows, io);
    const code = worst(result.rows, findings);
    if (options.json) {
      const { made, cached, summary } = result;
      io.stdout.write(
        summary === '' ? jsonText({ ok: false }) : jsonText({ ...JSON.parse(summary), made, cached }),
      );
    } else if (!options.quiet) {
      const { made, cached, rows } = result;
      sayLine(io.stdout, `${options.out}: ${tally(rows)}; ${made} made, ${cached} from the cache`);
    }
    return code;
  } finally {
    finished();
  }
}

type Understood = Pick<Parameters<typeof runBatch>[0], 'threads' | 'cacheBound' | 'shard'>;

function understood(options: BatchOptions): Understood | { readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const fault = (where: string, message: string, hint: string): void => {
    findings.push(errorFinding('bad-value', where, message, hint));
  };
  const threads = options.jobs === undefined ? availableParallelism() : Number(options.jobs);
  if (!Number.isInteger(threads) || threads < 1 || threads > 1024) {
    fault('--jobs', `is ${JSON.stringify(options.jobs)}`, 'give a whole number of workers from 1 to 1024');
  }
  const size = options.cacheSize === undefined ? DEFAULT_BOUND : bytesOf(options.cacheSize);
  if (size === undefined)
    fault('--cache-size', `is ${JSON.stringify(options.cacheSize)}`, 'give a size, e.g. `500 MB` or `2 GB`');
  const shard = options.shard === undefined ? undefined : parseShard(options.shard);
  if (options.shard !== undefined && shard === undefined) {
    const hint = 'give the shard and the number of shards, e.g. `2/4`';
    fault('--shard', `is ${JSON.stringify(options.shard)}`, hint);
  }
  if (options.gather && (options.shard !== undefined || options.verify)) {
    fault('--gather', 'joins finished shards', 'remove `--shard` and `--verify`');
  }
  if (!options.verify && (options.markdown !== undefined || options.overlay !== undefined)) {
    fault('--markdown, --overlay', 'report what `--verify` found', 'add `--verify`');
  }
  return findings.length > 0 ? { findings } : { threads, cacheBound: size!, shard };
}

function bytesOf(text: string): number | undefined {
  const found = /^(\d+(?:\.\d+)?)\s*([kMGT]?)i?B?$/i.exec(text.trim());
  if (found === null) return undefined;
  const power = ['', 'k', 'm', 'g', 't'].indexOf(found[2]!.toLowerCase());
  return Number(found[1]) * 1024 ** power;
}

function cacheFolder({ cache }: BatchOptions, { env }: Io): string | undefined {
  if (cache === false) return undefined;
  if (cache !== undefined) return cache;
  const home = env.XDG_CACHE_HOME?.startsWith('/')
    ? env.XDG_CACHE_HOME
    : join(env.HOME || homedir(), '.cache');
  return join(home, 'datumlight');
}

/** The cache, which is emptied of what is old, is to be no folder of the user's either. */
function refusedFolders({ out, cache }: BatchOptions, inputs: readonly string[]): readonly Finding[] {
  const refused = [
    refusedFolder('--out', out, inputs),
    typeof cache === 'string' ? refusedFolder('--cache', cache, inputs) : undefined,
  ];
  return refused.filter((finding) => finding !== undefined);
}

function gathered(folders: readonly string[], options: BatchOptions, io: Io): ExitCode {
  const refuse = refusing(options, io);
  const misplaced = refusedFolders(options, folders);
  if (misplaced.length > 0) return refuse(options.out, { findings: misplaced });
  const { rows, summary, findings } = gather(folders, options.out);
  if (countOf(findings, 'error') > 0) return refuse(options.out, { findings });
  say(findings, options, io);
  sayTroubles(rows, io);
  if (options.json) io.stdout.write(summary);
  else if (!options.quiet)
    sayLine(io.stdout, `${options.out}: ${tally(rows)}; gathered from ${folders.length} shards`);
  return worst(rows, []);
}

const say = (findings: readonly Finding[], options: TalkOptions, io: Io): void =>
  sayFindings(findings, undefined, io.stderr, io, options);

/** On Ctrl-C: a word about going on, then the end that the shell expects; what is done is kept already. The function returned ends that. */
function interruptible(io: Io, before: () => void): () => void {
  const stop = (signal: NodeJS.Signals): void => {
    before();
    io.stderr.write('stopped; run the same command to continue\n');
    off();
    process.kill(process.pid, signal);
  };
  const off = (): void => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.off(signal, stop);
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, stop);
  return off;
}
