/**
 * `plan FILE --out FILE`: fills in what a scenario leaves open. Where the wishes are missed the best is written too, with exit code 1,
 * the reasons in words, and what is still open. No signal is caught: Ctrl-C and SIGTERM end it at once, and files appear whole or not at all.
 */

import { setImmediate } from 'node:timers/promises';
import { Option } from 'commander';
import { designScenario } from '../../design/design-scenario.ts';
import { filesBeside } from '../../disk/files-beside.ts';
import { closedFiles, knownByHead, knownByText, refusedFiles } from '../../disk/output-places.ts';
import { type PlacedFile, placeFiles } from '../../disk/place-files.ts';
import { errorFinding, type Finding, pathText, withPlace } from '../../finding/finding.ts';
import { fillingOf } from '../../planning/filling.ts';
import { type Plan, type Progress, plan as planScenario } from '../../planning/plan.ts';
import { NM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { fillOpenPlaces } from '../../reading/scenario/fill-open-places.ts';
import { hasPlanMark, withPlanMark } from '../../reading/scenario/plan-mark.ts';
import { readOpenScenario } from '../../reading/scenario/read-scenario.ts';
import { wishedDegrees } from '../../scenario/scenario.ts';
import { jsonText } from '../../writing/json.ts';
import { isReachMap, reachMapSvg } from '../../writing/reach/reach-map.ts';
import { reportedFinding } from '../../writing/report/reported-finding.ts';
import { nmWords } from '../../writing/report/reported-test.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { progressTo } from '../progress.ts';
import { readInput } from '../read-input.ts';
import { countOf, listing, refusing, sayFindings, sayLine, sayLines } from '../say.ts';

interface PlanOptions extends TalkOptions {
  readonly out: string;
  readonly seed: string;
  /** File for the map of what the process can serve. */
  readonly reach?: string;
}

export const registerPlan: Register = ({ program, io, end }) =>
  talkative(program.command('plan'))
    .argument('<file>', 'scenario with places left open (`auto`); - for standard input')
    .requiredOption('--out <file>', 'the scenario with its open places filled in; - for standard output')
    .addOption(
      new Option(
        '--seed <text>',
        'decides between equal choices; the same seed gives the same bytes',
      ).default('plan', 'plan'),
    )
    .option('--reach <svg>', 'also draw where each reference can be served within process.minFeature')
    .summary(
      'fill in what a scenario leaves open: sizes, places and line angles of patches, and which references to use',
    )
    .description(
      'Fills in every `auto` of a scenario so that `wanted` and `test.figure` are met with little glass and no rule is broken.\n' +
        'Exit 1 if they cannot be met or a place stays open, with the reasons; the best result is written all the same.\n' +
        'Ctrl-C ends it; nothing is written.',
    )
    .addHelpText(
      'after',
      '\nExample:\n  datumlight plan examples/plan-retroreflectors.yaml --out out/planned.yaml',
    )
    .action((file: string, options: PlanOptions) => end(plan(file, options, io)));

async function plan(file: string, options: PlanOptions, io: Io): Promise<ExitCode> {
  const input = await readInput(file, io);
  const refuse = (findings: readonly Finding[], text?: string): ExitCode =>
    refusing(options, io)(input.name, { findings, ...(text === undefined ? {} : { text }) });
  if ('finding' in input) return refuse([input.finding]);
  const {
    scenario,
    open,
    listed = [],
    findings,
    places,
  } = readOpenScenario(input.text, input.name, filesBeside(file));
  if (scenario === undefined || open === undefined) return refuse(findings, input.text);
  // What cannot be designed with the stand-ins cannot be designed with planned patches either.
  const made = designScenario(scenario);
  if ('findings' in made)
    return refuse(
      made.findings.map((finding) => withPlace(finding, places)),
      input.text,
    );
  const misplaced = refusedOutputs(options, file);
  if (misplaced.length > 0) return refuse(misplaced);
  const found = await searched(planScenario(scenario, open, { seed: options.seed }), options, io);
  const filling = fillingOf(found, open, listed);
  const written = fillOpenPlaces(input.text, filling);
  if (written === undefined) {
    const message = 'an `auto` comes from an alias or a merge key, which `plan` cannot fill in';
    const hint = 'write `auto` directly in the patch or the reference';
    return refuse([errorFinding('open-place', input.name, message, hint)], input.text);
  }
  const filled = withPlanMark(written, aimWords(found));
  const files: PlacedFile[] = [];
  if (options.out !== '-') files.push({ ...scenarioAt(options.out), content: filled });
  if (options.reach !== undefined) {
    const planned = designScenario(found.scenario);
    if ('findings' in planned) return refuse(planned.findings, input.text);
    files.push({ ...mapAt(options.reach), content: reachMapSvg(planned.design, { draft: false }) });
  }
  const unwritten = placeFiles(files);
  if (countOf(unwritten, 'error') > 0) return refuse(unwritten, input.text);
  sayFindings(unwritten, undefined, io.stderr, io, options);
  return told(found, { text: filled, left: filling.left }, input.name, options, io);
}

/** What a plan was aimed at, and what it comes to; undefined where nothing is asked of the figure. */
function aimWords({ figure, scenario }: Plan): string | undefined {
  if (figure === null) return undefined;
  const { expected, allowed } = figure;
  const nm = (mm: number): string => nmWords(mm * NM_PER_MM, 3);
  const degrees = wishedDegrees(scenario.wanted);
  const wishes = degrees.length === 0 ? '' : `\`wanted\` (${degrees.join(', ')}) and `;
  const left = expected === null ? 'is not bounded' : `is expected to leave ${nm(expected)} rms`;
  return `${wishes}\`test.figure\`, ${nm(allowed)}: misalignment ${left}`;
}

const inNm = ({ expected, allowed }: NonNullable<Plan['figure']>) => {
  return { expected: expected === null ? null : expected * NM_PER_MM, allowed: allowed * NM_PER_MM };
};

const scenarioAt = (path: string) => ({ option: '--out', path, isOwn: knownByText(hasPlanMark) });
const mapAt = (path: string) => ({ option: '--reach', path, isOwn: knownByHead(isReachMap) });

/** Before the search, which may take minutes. */
function refusedOutputs({ out, reach }: PlanOptions, input: string): readonly Finding[] {
  if (reach === '-') {
    const message = 'the map cannot go to standard output';
    return [errorFinding('bad-value', '--reach', message, 'name a file')];
  }
  const files = [...(out === '-' ? [] : [scenarioAt(out)]), ...(reach === undefined ? [] : [mapAt(reach)])];
  const misplaced = refusedFiles(files, [input]);
  return misplaced.length > 0 ? misplaced : closedFiles(files);
}

async function searched(search: Generator<Progress, Plan>, options: PlanOptions, io: Io): Promise<Plan> {
  const progress = progressTo(io.stderr, options.quiet === true);
  for (;;) {
    const next = search.next();
    if (next.done) {
      progress.end();
      return next.value;
    }
    const { step, worst, patches, glass } = next.value;
    progress.say(
      `${step}: worst uncertainty ${trimmed(worst, 3)} of its limit, ${patches} patches, ${trimmed(glass, 0)} mm² of glass`,
    );
    // So that the streams get their turn.
    await setImmediate();
  }
}

type Filling = ReturnType<typeof fillingOf>;

interface Written {
  readonly text: string;
  /** What still says `auto` in it. */
  readonly left: Filling['left'];
}

function told(found: Plan, { text, left }: Written, name: string, options: PlanOptions, io: Io): ExitCode {
  const { planned, unused, worst, glass, figure, findings, reasons, stopped } = found;
  const code = reasons.length === 0 ? EXIT.fine : EXIT.rulesBroken;
  const aim = aimWords(found);
  // Into a file or a pipe byte for byte, as with --out FILE.
  if (options.out === '-' && !options.json) {
    if (io.stdout.isTTY) sayLines(io.stdout, text.replace(/\n$/, ''));
    else io.stdout.write(text);
  }
  if (options.json) {
    io.stdout.write(
      jsonText({
        ok: code === EXIT.fine,
        file: name,
        written: options.out,
        worst,
        ...(figure === null ? {} : { figure_nm: inNm(figure) }),
        glass_mm2: glass,
        patches: planned.map(({ patch }) => ({
          id: patch.id,
          reference: patch.reference,
          centre: patch.centre,
        })),
        unused: unused.map(({ id }) => id),
        reasons,
        complete: left.length === 0,
        open: left.map(({ path }) => pathText(path, 'scenario')),
        stopped,
        ...listing({ findings: findings.map(reportedFinding) }),
        ...(options.out === '-' ? { scenario: text } : {}),
      }),
    );
    return code;
  }
  for (const reason of reasons.slice(0, MOST_REASONS)) sayLine(io.stderr, `${name}: ${reason}`);
  if (reasons.length > MOST_REASONS)
    sayLine(io.stderr, `${name}: ${reasons.length - MOST_REASONS} more reasons are not listed`);
  if (left.length > 0) {
    const file = options.out === '-' ? 'the scenario written to standard output' : options.out;
    sayLine(io.stderr, `${file} is not complete: ${openWords(left)}`);
  }
  if (!options.quiet) {
    const state = code === EXIT.fine ? 'planned' : 'does not meet what is asked; best result';
    const where = options.out === '-' ? '' : `, written to ${options.out}`;
    const talk = options.out === '-' ? io.stderr : io.stdout;
    sayLine(
      talk,
      `${name}: ${stopped ? 'reached its limit of work; ' : ''}${state}: ${planned.length} patches, ${trimmed(glass, 0)} mm² of glass, ` +
        `worst ${aim === undefined ? 'uncertainty ' : ''}${trimmed(worst, 3)} of its limit${where}`,
    );
    if (aim !== undefined) sayLine(talk, `  planned for ${aim}`);
  }
  return code;
}

/** Reasons listed; the rest are counted. */
const MOST_REASONS = 100;
/** Patches and references that are named; the rest are counted. */
const MOST_NAMED = 12;

function openWords(left: Filling['left']): string {
  const owners = [...new Set(left.map(({ of }) => of))];
  const named = owners.slice(0, MOST_NAMED).map((owner) => {
    const keys = left.filter(({ of }) => of === owner).map(({ path }) => `\`${path.at(-1)}\``);
    return `${keys.join(', ')} of ${owner}`;
  });
  const more = owners.length - named.length;
  return `still open (\`auto\`): ${named.join('; ')}${more > 0 ? `; and of ${more} more` : ''}`;
}
