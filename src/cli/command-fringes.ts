/** `fringes FILE --out DIR`: what the camera will show, as pictures; and in a terminal a first look at once. */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { isReadBy } from '../kinds/kinds.ts';
import type { Displacements, RigidMotion } from '../metrology/camera/fringe-picture-displacements.ts';
import { UM_PER_MM } from '../quantity/conversion.ts';
import { didYouMean } from '../quantity/nearest-name.ts';
import type { ReadDisplacement } from '../reading/bench/read-displacements.ts';
import { jsonText } from '../writing/json.ts';
import type { NamedPicture, SetOptions } from '../writing/picture/picture-set.ts';
import { EXIT, type ExitCode, type Io, type Terminal } from './io.ts';
import { type Loaded, loadScenario } from './load-scenario.ts';
import { sayFindings, type TalkOptions } from './say.ts';
import { unusableReport } from './unusable-report.ts';
import { VERSION } from './version.ts';

export interface FringesOptions extends TalkOptions {
  readonly out: string;
  readonly patch?: readonly string[];
  readonly at?: readonly string[];
  readonly size?: string;
  readonly view?: 'part' | 'interferometer';
  readonly diffraction?: boolean;
  readonly camera?: boolean;
  readonly noise?: string;
}

const DEFAULT_SIZE = 320;
const SIZES = { least: 16, most: 2048 } as const;
/** More would take minutes and help nobody. */
const MOST_PATCHES = 200;

export async function fringes(file: string, options: FringesOptions, io: Io): Promise<ExitCode> {
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined)
    return refuse([{ findings: loaded.findings, source: loaded.text }], options, loaded, io);
  const asked = await readOptions(design, options);
  if ('faults' in asked) return refuse(asked.faults, options, loaded, io);
  const packageThere = await packageIn(options.out);
  if (packageThere !== undefined)
    return refuse([{ findings: [packageThere], source: '' }], options, loaded, io);

  const [{ pictureSet }, { pngBytes }, { fringesPage }, { manifestJson }, { writePackage }] =
    await Promise.all([
      import('../writing/picture/picture-set.ts'),
      import('../writing/picture/png.ts'),
      import('../writing/picture/fringes-page.ts'),
      import('../writing/manifest.ts'),
      import('../disk/package-folder.ts'),
    ]);
  let pictures: readonly NamedPicture[];
  try {
    pictures = pictureSet(design, asked.set);
  } catch (error) {
    if (!(error instanceof RangeError) || asked.set.at?.hologram === undefined) throw error;
    const finding = fault('out-of-range', '--at', error.message, 'move it less');
    return refuse([{ findings: [finding], source: '' }], options, loaded, io);
  }
  const bytes = new Map(pictures.map(({ file: name, picture }) => [name, pngBytes(picture)]));
  const files = new Map<string, string | Uint8Array>(bytes);
  files.set('fringes.html', fringesPage(design, pictures, bytes, asked.set, VERSION));
  files.set(
    'manifest.json',
    manifestJson(files, { version: VERSION, scenarioHash: loaded.hash, draft: false }),
  );
  const unwritten = writePackage(options.out, files);
  if (unwritten !== undefined) return refuse([{ findings: [unwritten], source: '' }], options, loaded, io);

  if (options.json) io.stdout.write(jsonText(reportOf(loaded, asked.set, pictures, options.out)));
  else {
    sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
    if (!options.quiet) {
      await preview(design, asked.set, io.stdout, io);
      io.stdout.write(
        `${loaded.file}: wrote ${pictures.length} pictures and fringes.html to ${options.out}\n`,
      );
    }
  }
  return EXIT.fine;
}

function reportOf(
  { file, hash }: Loaded,
  { seenFrom, diffraction, camera }: SetOptions,
  pictures: readonly NamedPicture[],
  written: string,
): unknown {
  return {
    format: 'datumlight-fringes/1',
    file,
    scenario: { sha256: hash },
    seenFrom,
    diffraction: diffraction === true,
    camera: camera !== undefined,
    written,
    pictures: pictures.map(({ file: name, patch, state, displacement, fringes: counts }) => ({
      file: name,
      patch: patch ?? null,
      state,
      displacement_um: displacement === undefined ? null : xyz(displacement.map((part) => part * UM_PER_MM)),
      fringesAlongSenses: counts,
    })),
  };
}

const xyz = ([x, y, z]: readonly number[]): unknown => ({ x, y, z });

/** What is wrong with one text, and that text: the scenario's, that of an `--at`, or none. */
interface Fault {
  readonly findings: readonly Finding[];
  readonly source: string;
}
type Asked = { readonly set: SetOptions } | { readonly faults: readonly Fault[] };

async function readOptions(design: Design, options: FringesOptions): Promise<Asked> {
  const findings: Finding[] = [];
  const size = options.size === undefined ? DEFAULT_SIZE : Number(options.size);
  if (!(Number.isInteger(size) && size >= SIZES.least && size <= SIZES.most)) {
    const hint = `a whole number of pixels from ${SIZES.least} to ${SIZES.most}`;
    findings.push(fault('out-of-range', '--size', `--size is ${JSON.stringify(options.size)}`, hint));
  }
  const noise =
    options.noise === undefined ? 0 : options.noise.trim() === '' ? Number.NaN : Number(options.noise);
  if (!(noise >= 0 && noise <= 1)) {
    const hint = 'the standard deviation of a pixel, as a part of full scale: 0 to 1';
    findings.push(fault('out-of-range', '--noise', `--noise is ${JSON.stringify(options.noise)}`, hint));
  }
  const names = design.patches.map(({ id }) => id);
  for (const id of options.patch ?? []) {
    const patch = design.patches.find((candidate) => candidate.id === id);
    if (patch !== undefined && !isReadBy(patch.reference, 'senses')) {
      const message = `patch ${id} sends its light to a ${patch.reference.kind}: no picture is drawn of it`;
      findings.push(fault('bad-value', '--patch', message, 'name another patch'));
    }
    if (patch !== undefined) continue;
    const hint = didYouMean(id, names) ?? `its patches are ${names.slice(0, 14).join(', ')}`;
    findings.push(
      fault('unknown-name', '--patch', `the scenario has no patch named ${JSON.stringify(id)}`, hint),
    );
  }
  const count = options.patch?.length ?? names.length;
  if (count > MOST_PATCHES) {
    const hint = `name up to ${MOST_PATCHES} of them with --patch`;
    findings.push(fault('too-many', '--patch', `pictures of ${count} patches are too many`, hint));
  }
  const { at, faults } = await displacementsOf(design, options.at ?? []);
  if (findings.length > 0) faults.unshift({ findings, source: '' });
  if (faults.length > 0) return { faults };
  const camera = options.camera || noise > 0 ? { noise } : undefined;
  return {
    set: {
      size,
      seenFrom: options.view ?? 'interferometer',
      ...(options.patch === undefined ? {} : { patches: options.patch }),
      ...(at === undefined ? {} : { at }),
      ...(options.diffraction ? { diffraction: true } : {}),
      ...(camera === undefined ? {} : { camera }),
    },
  };
}

/** All of `--at` together; a thing named twice is an error. */
async function displacementsOf(
  design: Design,
  texts: readonly string[],
): Promise<{ readonly at?: Displacements; readonly faults: Fault[] }> {
  const faults: Fault[] = [];
  if (texts.length === 0) return { faults };
  const { readDisplacements } = await import('../reading/bench/read-displacements.ts');
  const all: ReadDisplacement[] = [];
  for (const source of texts) {
    const { displacements, findings } = readDisplacements(source, '--at', design.scenario);
    if (findings.length > 0) faults.push({ findings, source });
    for (const displacement of displacements) {
      if (all.some(({ name }) => name === displacement.name)) {
        const message = `${displacement.name} is displaced twice`;
        const finding = fault('duplicate-id', '--at', message, 'give its displacement once');
        faults.push({ findings: [finding], source: '' });
      }
      all.push(displacement);
    }
  }
  const ids = design.references.map(({ id }) => id);
  const bodyOf = (name: string): RigidMotion | undefined =>
    ids.includes(name) ? undefined : all.find((displacement) => displacement.name === name);
  const [part, hologram] = [bodyOf('part'), bodyOf('hologram')];
  const at: Displacements = {
    references: new Map(
      all.filter(({ name }) => ids.includes(name)).map(({ name, translation }) => [name, translation]),
    ),
    ...(part === undefined ? {} : { part }),
    ...(hologram === undefined ? {} : { hologram }),
  };
  return { at, faults };
}

/** Pictures never take the place of a package that `make` wrote. */
async function packageIn(folder: string): Promise<Finding | undefined> {
  const { manifestIn } = await import('../disk/package-reading.ts');
  const found = manifestIn(folder);
  if (found === undefined || !('report.json' in found.manifest.files)) return undefined;
  return fault(
    'not-writable',
    folder,
    `${folder} holds the package that make wrote, which pictures would replace`,
    'name another folder',
  );
}

const fault = (rule: Finding['rule'], where: string, message: string, hint: string): Finding => ({
  severity: 'error',
  rule,
  where,
  message,
  hint,
});

/** Of a terminal that does not tell. */
const DEFAULT_COLUMNS = 80;
/** Letters across and lines down of one picture in a terminal, and of the gap between two. */
const PREVIEW = { letters: 16, lines: 8, gap: 2, patches: 4 } as const;

/** In a terminal, the strips of the first patches in dots; nothing elsewhere. */
async function preview(design: Design, set: SetOptions, stream: Terminal, io: Io): Promise<void> {
  if (stream.isTTY !== true || io.env.TERM === 'dumb') return;
  const [{ pictureSet }, { brailleLines }, { captionOf }] = await Promise.all([
    import('../writing/picture/picture-set.ts'),
    import('../writing/picture/braille.ts'),
    import('../writing/picture/fringes-page.ts'),
  ]);
  const room = (stream as { columns?: number }).columns || DEFAULT_COLUMNS;
  const across = Math.max(1, Math.floor((room + PREVIEW.gap) / (PREVIEW.letters + PREVIEW.gap)));
  const seen = design.patches.filter(({ id }) => set.patches?.includes(id) ?? true).map(({ id }) => id);
  const small = { ...set, patches: seen.slice(0, PREVIEW.patches), size: PREVIEW.letters * 2 };
  const pictures = pictureSet(design, small).filter(({ patch }) => patch !== undefined);
  for (const id of small.patches) {
    // The user's own case and the way's end first, where not all have room.
    const own = pictures.filter(({ patch }) => patch === id);
    const strip = own.length > across ? own.slice(-across) : own;
    if (strip.length === 0) continue;
    stream.write(`${id}\n`);
    const drawn = strip.map(({ picture }) => brailleLines(picture));
    for (let line = 0; line < PREVIEW.lines; line++) {
      stream.write(`${drawn.map((lines) => lines[line]).join(' '.repeat(PREVIEW.gap))}\n`);
    }
    for (const picture of strip) stream.write(`  ${captionOf(picture)}\n`);
    stream.write('\n');
  }
}

function refuse(faults: readonly Fault[], options: FringesOptions, { file }: Loaded, io: Io): ExitCode {
  if (options.json) {
    const findings = faults.flatMap((one) => one.findings);
    io.stdout.write(jsonText(unusableReport(file, findings)));
  } else for (const { findings, source } of faults) sayFindings(findings, source, io.stderr, io, options);
  return EXIT.unusable;
}
