/**
 * A scenario's text to a Scenario, or to findings with their places: YAML first; then what the schema refuses and what only
 * the builders can see, both at once, each fault once.
 */
import type { Code } from '../../finding/codes.ts';
import { byPlace, type Finding, type Path, pathText, type Severity } from '../../finding/finding.ts';
import { listedFindings } from '../../finding/listed-findings.ts';
import { parameterValue, type ResolvedParameters, resolveParameters } from '../../quantity/parameters.ts';
import type { OpenPlaces } from '../../scenario/open-places.ts';
import type { Parameter, Scenario } from '../../scenario/scenario.ts';
import { assemble, FAULTY, Field, type FileSource, isObject, type Reading } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import type { PlaceFinder } from '../yaml/place-finder.ts';
import { buildDrawing } from './build-drawing.ts';
import { buildInterferometer, buildLight } from './build-light.ts';
import { buildMarks } from './build-marks.ts';
import { buildObstacles } from './build-obstacles.ts';
import { buildPart } from './build-part.ts';
import { buildPatches, buildWanted } from './build-patches.ts';
import { buildMeasurements, buildReferences, idsInUse } from './build-references.ts';
import { buildStage } from './build-stage.ts';
import { buildKeepOuts, buildProcess, buildSeats, buildSubstrate } from './build-substrate.ts';
import { buildSweep } from './build-sweep.ts';
import { buildTest, refuseMainIds } from './build-test.ts';
import { closed, openPlaces } from './open-places.ts';
import { checkSchema } from './schema-findings.ts';

export type { FileSource } from '../yaml/field.ts';
export type { PlaceFinder } from '../yaml/place-finder.ts';

interface ReadResult {
  /** Deeply frozen, defaults filled in; undefined where `findings` holds an error. */
  readonly scenario?: Scenario;
  /** In the order of the file, each with its place. */
  readonly findings: readonly Finding[];
  /** Where a path of the scenario stands in the text. */
  readonly places: PlaceFinder;
}

/** Values that take the place of parameters of the scenario, as the scenario would write them. */
export type Overrides = ReadonlyMap<string, string | number>;

/** Reads `text`, some of its parameters replaced; `fileName` is only quoted. Throws for no text whatever. */
export const readScenario = (
  text: string,
  fileName: string,
  overrides: Overrides = new Map(),
  files: FileSource = NO_FILES,
): ReadResult => read(text, fileName, overrides, files, false);

/** Where nobody hands files in. */
const NO_FILES: FileSource = () => ({ fault: 'this command reads no files that a scenario names' });

interface OpenReadResult extends ReadResult {
  readonly open?: OpenPlaces;
  /** The ids of the references as the file lists them, those that are not used among them. */
  readonly listed?: readonly string[];
}

/** As `readScenario`, but places may be left open for the planner (`auto`): `open` says which, stand-ins take their place. */
export const readOpenScenario = (
  text: string,
  fileName: string,
  files: FileSource = NO_FILES,
): OpenReadResult => read(text, fileName, new Map(), files, true);

function read(
  text: string,
  fileName: string,
  overrides: Overrides,
  files: FileSource,
  mayBeOpen: boolean,
): OpenReadResult {
  const { findings: yamlFindings, data: written, places: index } = parseYaml(text, fileName);
  const places: PlaceFinder = (path) => index.ofValue(inFile(path, written));
  if (written === undefined) return { findings: yamlFindings, places };
  const findings = [...yamlFindings];
  const say: Say = (severity, rule, path, message, hint, atKey = false) => {
    const place = atKey ? index.ofKey(path) : index.ofValue(path);
    const finding = { severity, rule, where: pathText(path, 'scenario'), message, hint, path };
    findings.push(place === undefined ? finding : { ...finding, place });
  };
  const { data, paths } = closed(written);
  for (const path of mayBeOpen ? [] : paths) {
    const message = `\`${path.at(-1)}\` is open (\`auto\`)`;
    say('error', 'open-place', path, message, 'run `datumlight plan` to fill it in, or give a value');
  }
  const { faults, misspelled } = checkSchema(data);
  for (const { code, path, message, hint, atKey } of faults) say('error', code, path, message, hint, atKey);
  const within = (found: readonly Finding[]): void => void findings.push(...found);
  const { scenario, ...rest } = build(
    data,
    written,
    { files, misspelled, reportWithin: within },
    say,
    overrides,
  );
  const listed = inOrder(findings, fileName);
  if (findings.some(({ severity }) => severity === 'error')) return { findings: listed, places };
  if (scenario === undefined) throw new Error('a scenario without findings could not be built');
  return { scenario, findings: listed, places, ...rest };
}

/** Findings count the references in use; the file may list others between them. */
function inFile(path: Path, written: unknown): Path {
  const [list, position, ...rest] = path;
  const items = isObject(written) ? written.references : undefined;
  if (list !== 'references' || typeof position !== 'number' || !Array.isArray(items)) return path;
  const used = [...items.keys()].filter((k) => !(isObject(items[k]) && items[k].use === false));
  return [list, used[position] ?? position, ...rest];
}

type Say = (
  severity: Severity,
  rule: Code,
  path: Path,
  message: string,
  hint: string,
  atKey?: boolean,
) => void;

function build(
  data: unknown,
  written: unknown,
  around: Pick<Reading, 'files' | 'misspelled' | 'reportWithin'>,
  say: Say,
  overrides: Overrides,
): Pick<OpenReadResult, 'scenario' | 'open' | 'listed'> {
  const given = isObject(data) && Object.hasOwn(data, 'parameters') ? data.parameters : undefined;
  const { scope, problems } = parametersOf(given, overrides);
  const namesKnown = (given === undefined || isObject(given)) && !around.misspelled([], 'parameters');
  const saying = (severity: Severity) => (code: Code, path: Path, message: string, hint: string) => {
    if (code !== 'unknown-name' || namesKnown) say(severity, code, path, message, hint);
  };
  const reading: Reading = { ...around, scope, report: saying('error'), warn: saying('warning') };
  for (const [name, { code, message, hint }] of problems)
    say('error', code, ['parameters', name], message, hint, code === 'bad-id');
  const root = new Field(data, [], reading);
  const title = root.get('title').value ?? '';
  const part = buildPart(root.get('part'));
  const references = idsInUse(root.get('references'));
  const scenario = assemble<Scenario>({
    title: typeof title === 'string' ? title : FAULTY,
    parameters: listParameters(scope),
    light: buildLight(root.get('light')),
    interferometer: buildInterferometer(root.get('interferometer')),
    substrate: buildSubstrate(root.get('substrate')),
    keepOuts: buildKeepOuts(root.get('keepOuts')),
    seats: buildSeats(root.get('seats')),
    process: buildProcess(root.get('process')),
    part: part.part,
    obstacles: buildObstacles(root.get('obstacles')),
    references: buildReferences(root.get('references'), part),
    patches: buildPatches(root.get('patches'), references),
    ...(root.get('test').present ? { test: buildTest(root.get('test'), part) } : {}),
    measurements: buildMeasurements(root.get('measurements'), references),
    wanted: buildWanted(root.get('wanted')),
    stage: buildStage(root.get('stage')),
    ...(root.get('sweep').present ? { sweep: buildSweep(root.get('sweep')) } : {}),
    ...(root.get('drawing').present ? { drawing: buildDrawing(root.get('drawing')) } : {}),
    ...(root.get('marks').present ? { marks: buildMarks(root.get('marks')) } : {}),
  });
  if (root.get('test').present) refuseMainIds(root);
  const open = openPlaces(new Field(written, [], reading));
  return {
    ...(scenario === FAULTY ? {} : { scenario: deepFreeze(scenario) }),
    ...(open === FAULTY ? {} : { open }),
    listed: root.items('references').map((item) => String(item.get('id').value)),
  };
}

function parametersOf(given: unknown, overrides: Overrides): ResolvedParameters {
  const written = isObject(given) ? Object.entries(given) : [];
  const entries = written.map(([name, value]) => [name, overrides.get(name) ?? value] as const);
  const usable = (value: unknown): value is string | number =>
    typeof value === 'string' || (typeof value === 'number' && Number.isFinite(value));
  const values = new Map<string, string | number>();
  for (const [name, value] of entries) if (usable(value)) values.set(name, value);
  return resolveParameters(
    values,
    entries.filter(([, value]) => !usable(value)).map(([name]) => name),
  );
}

function listParameters(scope: Reading['scope']): readonly Parameter[] {
  return [...scope].flatMap(([name, quantity]) =>
    quantity === 'faulty' ? [] : [{ name, ...parameterValue(quantity) }],
  );
}

/** By place; a fault that several aliases share is listed once; past the most that are listed, a count. */
function inOrder(findings: readonly Finding[], file: string): readonly Finding[] {
  const once = new Map<string, Finding>();
  for (const finding of findings) {
    const { rule, message, place } = finding;
    const key = `${place?.file}:${place?.line}:${place?.column}:${rule}:${message}`;
    if (!once.has(key)) once.set(key, finding);
  }
  return listedFindings(byPlace([...once.values()]), file);
}

function deepFreeze<T>(value: T): T {
  // A typed array cannot be frozen; nobody writes into one either.
  if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value)) {
    for (const part of Object.values(value)) deepFreeze(part);
    Object.freeze(value);
  }
  return value;
}
