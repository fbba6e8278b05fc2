/** `steer FILE --readings FILE`: what the camera shows in, what to turn next out. */
import { setTimeout as pause } from 'node:timers/promises';
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { steer as steerFrom } from '../metrology/steering/steering.ts';
import { steeringFindings } from '../metrology/steering/steering-findings.ts';
import { readReadings } from '../reading/bench/read-readings.ts';
import { jsonText } from '../writing/json.ts';
import { steeringReport } from '../writing/steering/steering-report.ts';
import { steeringText } from '../writing/steering/steering-text.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { loadScenario } from './load-scenario.ts';
import { readInput } from './read-input.ts';
import { countOf, sayFindings, type TalkOptions } from './say.ts';
import { unusableReport } from './unusable-report.ts';

export interface SteerOptions extends TalkOptions {
  readonly readings: string;
  readonly watch?: boolean;
}

/** Between two looks at a growing file, ms: sooner than a person reads the answer. */
const LOOK_EVERY = 200;

export async function steer(file: string, options: SteerOptions, io: Io): Promise<ExitCode> {
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.findings, loaded.text, loaded.file, options, io);
  if (!options.json) sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
  if (options.watch && options.readings === '-') return refuse([CANNOT_WATCH], '', '<stdin>', options, io);
  if (options.watch) return watch(design, options, io);
  const input = await readInput(options.readings, io);
  if ('finding' in input) return refuse([input.finding], '', input.name, options, io);
  return answer(design, input.text, input.name, options, io);
}

function answer(design: Design, text: string, name: string, options: SteerOptions, io: Io): ExitCode {
  const { readings, findings: faults, places } = readReadings(text, name, design.scenario);
  if (readings === undefined) return refuse(faults, text, name, options, io);
  const steering = steerFrom(design, readings);
  const findings = steeringFindings(steering).map((finding): Finding => {
    const place = finding.path === undefined ? undefined : places(finding.path);
    return place === undefined ? finding : { ...finding, place };
  });
  const report = steeringReport(design, steering, findings);
  if (options.json) io.stdout.write(jsonText({ ...report, readings: name }));
  else {
    sayFindings(findings, text, io.stderr, io, options);
    io.stdout.write(steeringText(report, steering));
  }
  return countOf(findings, 'error') > 0 ? EXIT.rulesBroken : EXIT.fine;
}

const CANNOT_WATCH: Finding = {
  severity: 'error',
  rule: 'conflicting-keys',
  where: '--watch',
  message: 'standard input cannot be watched: it is read once',
  hint: 'name a file, or leave out --watch',
};

/** Answers anew whenever the file has changed; ends when it is removed, or at an interrupt. */
async function watch(design: Design, options: SteerOptions, io: Io): Promise<ExitCode> {
  const ended = new AbortController();
  const interrupt = (): void => ended.abort();
  process.once('SIGINT', interrupt);
  let before: string | undefined;
  let missed = false;
  let code: ExitCode = EXIT.fine;
  try {
    for (;;) {
      const input = await readInput(options.readings, io);
      if ('finding' in input) {
        if (before === undefined) return refuse([input.finding], '', input.name, options, io);
        // An editor may put a new file in the old one's place: only one that stays away has been removed.
        if (missed) return code;
        missed = true;
      } else if (input.text !== before) {
        missed = false;
        if (before !== undefined) io.stdout.write('\n');
        before = input.text;
        code = answer(design, input.text, input.name, options, io);
      }
      await pause(LOOK_EVERY, undefined, { signal: ended.signal });
    }
  } catch (error) {
    if (ended.signal.aborted) return code;
    throw error;
  } finally {
    process.removeListener('SIGINT', interrupt);
  }
}

function refuse(
  findings: readonly Finding[],
  source: string,
  name: string,
  options: SteerOptions,
  io: Io,
): ExitCode {
  if (options.json) io.stdout.write(jsonText(unusableReport(name, findings)));
  else sayFindings(findings, source, io.stderr, io, options);
  return EXIT.unusable;
}
