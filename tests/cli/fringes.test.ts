/** `fringes` through the real executable: the pictures it writes, displacements of the user's own, refusals, and the look in a terminal. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PassThrough, Writable } from 'node:stream';
import { expect, test } from 'vitest';
import type { Io, Terminal } from '../../src/cli/io.ts';
import { main } from '../../src/cli/main.ts';
import { datumlight, example, executable, folder, scenarioFile, soundScenario } from './support/run.ts';

interface Shown {
  readonly file: string;
  readonly patch: string | null;
  readonly state: string;
  readonly displacement_um: { readonly x: number; readonly y: number; readonly z: number } | null;
  readonly fringesAlongSenses: readonly number[];
}
const sound = scenarioFile(soundScenario());
const SMALL = ['--size', '48'];
const hash = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

type Options = Readonly<Record<string, string | readonly string[] | true>>;

/** The command line without a process around it: what it exits with and writes to either stream. */
async function inProcess(
  options: Options,
  terminal: { readonly env: NodeJS.ProcessEnv; readonly columns?: number; readonly isTTY?: boolean } = {
    env: {},
  },
): Promise<{ code: number; stdout: string; stderr: string }> {
  const said = { stdout: '', stderr: '' };
  const stream = (name: keyof typeof said): Terminal =>
    Object.assign(
      new Writable({
        write(chunk, _, next) {
          said[name] += chunk;
          next();
        },
      }),
      { isTTY: terminal.isTTY === true, columns: terminal.columns },
    );
  const io: Io = {
    stdin: new PassThrough(),
    stdout: stream('stdout'),
    stderr: stream('stderr'),
    env: terminal.env,
  };
  const all: Options = { out: join(folder(), 'out'), size: '48', ...options };
  const args = Object.entries(all).flatMap(([name, values]) =>
    [values].flat().flatMap((value) => (value === true ? [`--${name}`] : [`--${name}`, value])),
  );
  const code = await main(['fringes', sound, ...args], io);
  return { code, ...said };
}

async function pictures(options: Options): Promise<readonly Shown[]> {
  const { code, stdout, stderr } = await inProcess({ json: true, ...options });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return JSON.parse(stdout).pictures;
}

test('a strip of each patch, the whole aperture, a page of them all, and a manifest that says what is there', async () => {
  const out = join(folder(), 'deep', 'out');
  const { code, stdout } = await datumlight(['fringes', sound, '--out', out, ...SMALL]);
  expect(code).toBe(0);
  // Into a pipe goes no picture of dots.
  expect(stdout).toMatch(/^.*: wrote 11 pictures and fringes\.html to .*\n$/);
  const strip = (start: string): string[] =>
    ['far-off', 'coarse', 'one-fringe', 'aligned'].map((state, k) => `${start}-${k + 1}-${state}.png`);
  expect(readdirSync(out)).toEqual(
    [
      ...['00-aperture-1-aligned.png', 'fringes.html', 'manifest.json'],
      ...strip('01-patch-1-north-1'),
      ...strip('02-patch-2-near-1'),
      ...['02-patch-2-near-1-5-second-direction.png', '02-patch-2-near-1-6-along-the-light.png'],
    ].sort(),
  );
  const manifest = JSON.parse(readFileSync(join(out, 'manifest.json'), 'utf8'));
  for (const name of readdirSync(out).filter((file) => file !== 'manifest.json'))
    expect(manifest.files[name].sha256).toBe(hash(readFileSync(join(out, name))));
});

test('the same bytes each time, anywhere; a new run takes the place of the old', async () => {
  const [a, b] = [join(folder(), 'a'), join(folder(), 'b')];
  const args = ['--camera', '--noise', '0.02', '--at', 'near: [1 um, 0, 0]', '--way-in', ...SMALL];
  await datumlight(['fringes', sound, '--out', a, ...args]);
  await executable(['fringes', sound, '--out', b, ...args], {
    env: { TZ: 'Asia/Tokyo', LANG: 'de_DE.UTF-8' },
  });
  for (const name of readdirSync(a)) expect(readFileSync(join(b, name))).toEqual(readFileSync(join(a, name)));
  expect(readFileSync(join(a, 'fringes.html'), 'utf8')).toMatch(/type="range"[\s\S]*<script>/);
  writeFileSync(join(a, 'notes.txt'), 'mine');
  expect((await datumlight(['fringes', sound, '--out', a, '--patch', 'near-1', ...SMALL])).code).toBe(0);
  expect(existsSync(join(a, '01-patch-1-north-1-4-aligned.png'))).toBe(false);
  // Moving pictures come only when asked for.
  expect(readFileSync(join(a, 'fringes.html'), 'utf8')).not.toMatch(/type="range"|<script>/);
  expect(readFileSync(join(a, 'notes.txt'), 'utf8')).toBe('mine');
});

test('the strip: eight fringes, three, one and none along the sense; on a ball one along each of the others', async () => {
  const shown = await pictures({ patch: ['near-1'] });
  const counts = shown.filter(({ patch }) => patch === 'near-1').map((one) => one.fringesAlongSenses);
  for (const [k, expected] of [
    [8, 0, 0],
    [3, 0, 0],
    [1, 0, 0],
    [0, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ].entries())
    counts[k]!.forEach((count, sense) => {
      expect(count).toBeCloseTo(expected[sense]!, 6);
    });
});

test.each([
  ['a reference', 'north: [0.02, -30 um, 1/8 mm]', { x: 20, y: -30, z: 125 }],
  ['the part, carrying it along', 'part: [0.01, 0, 0, 0, 0, 0]', { x: 10, y: 0, z: 0 }],
  // About the part's own origin, here that of the substrate: a turn about z by 10 urad at y = 250 mm.
  ['the part turned', "part: [0, 0, 0, 0, 0, '10 urad']", { x: -2.5, y: 0, z: 0 }],
  ['the hologram, seen from itself', 'hologram: [0.01, 0, 0]', { x: -10, y: 0, z: 0 }],
])('--at displaces %s', async (_, at, expected) => {
  const shown = await pictures({ at: [at], patch: ['north-1'] });
  const { displacement_um } = shown.find(({ state, patch }) => state === 'displaced' && patch === 'north-1')!;
  for (const axis of ['x', 'y', 'z'] as const) expect(displacement_um![axis]).toBeCloseTo(expected[axis], 4);
  expect(shown.map(({ file }) => file)).toContain('00-aperture-2-displaced.png');
});

test('several --at add up, one for each thing', async () => {
  const shown = await pictures({
    at: ['north: [0.02, 0, 0]', 'part: [0, 0, 0.01]'],
    patch: ['north-1'],
  });
  const { x, z } = shown.find(({ state, patch }) => state === 'displaced' && patch === 'north-1')!
    .displacement_um!;
  expect([x, z].map((um) => um.toFixed(6))).toEqual(['20.000000', '10.000000']);
});

test.each([
  ['a name that is nearly right', 'nrth: [0, 0, 0]', /--at:1:1: .*"nrth"; did you mean `north`\?/],
  ['too few values', 'north: [1, 2]', /`north` has 2 values; expected three lengths/],
  ['angles for a reference', 'north: [0, 0, 0, 1, 1, 1]', /`north` has 6 values/],
  ['not a number', 'north: [x, 0, 0]', /there is no parameter `x`/],
  ['a NaN', 'north: [.nan, 0, 0]', /which is not finite/],
  ['the wrong kind of unit', 'north: [3 deg, 0, 0]', /expected a length/],
  ['too far', 'north: [2 m, 0, 0]', /at most 1000 mm/],
  ['no YAML', 'north: [1, 2', /not YAML/],
  ['nothing', '', /--at is empty/],
  ['a list', '[1, 2, 3]', /e\.g\. `north: \[0\.02, 0, 0\]`/],
  ['the focus in the hologram', 'hologram: [0, 0, -500]', /cannot move so far/],
])('--at with %s: a clear error, exit 2, nothing written', async (_, at, expected) => {
  const out = join(folder(), 'out');
  const { code, stdout, stderr } = await inProcess({ out, at: [at] });
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(expected);
  expect(stderr).not.toMatch(/\n {4}at /);
  expect(existsSync(out)).toBe(false);
});

test('other options out of range, all said at once; as JSON too', async () => {
  const wrong = { size: '3', noise: 'much', patch: ['north-2'] };
  const { code, stderr } = await inProcess(wrong);
  expect(code).toBe(2);
  for (const words of [/--size is "3"/, /--noise is "much"/, /"north-2"; did you mean `north-1`/])
    expect(stderr).toMatch(words);
  const asJson = await inProcess({ ...wrong, json: true });
  expect(JSON.parse(asJson.stdout)).toMatchObject({ ok: false });
  expect(JSON.parse(asJson.stdout).findings).toHaveLength(3);
});

test('a thing displaced twice is refused, through the shell too', async () => {
  const args = ['--at', 'north: [0, 0, 0]', '--at', 'north: [1 um, 0, 0]'];
  const { code, stderr } = await datumlight(['fringes', sound, '--out', join(folder(), 'out'), ...args]);
  expect(code).toBe(2);
  expect(stderr).toMatch(/north is displaced twice/);
});

test('--camera adds whole frames: one aligned, one for each --at, two of them of one thing too', async () => {
  const out = join(folder(), 'out');
  const at = ['north: [0.02, 0, 0]', 'north: [0.04, 0, 0]'];
  const { code, stdout, stderr } = await inProcess({ out, at, camera: true, json: true });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  const { frames, pictures: shown } = JSON.parse(stdout);
  const names = ['frame-aligned.png', 'frame-displaced-1.png', 'frame-displaced-2.png'];
  expect(frames).toEqual(names.map((file, k) => ({ file, pixels: 1000, at: at[k - 1] ?? null })));
  // Two places of one thing are no displacement together.
  expect(shown.map(({ state }: Shown) => state)).not.toContain('displaced');
  const manifest = JSON.parse(readFileSync(join(out, 'manifest.json'), 'utf8'));
  const bytes = names.map((name) => readFileSync(join(out, name)));
  for (const [k, name] of names.entries()) {
    expect(manifest.files[name].sha256).toBe(hash(bytes[k]!));
    // Of the image header (ISO/IEC 15948): width, height, bits a sample, grey.
    expect([16, 20].map((place) => bytes[k]!.readUInt32BE(place))).toEqual([1000, 1000]);
    expect([...bytes[k]!.subarray(24, 26)]).toEqual([8, 0]);
  }
  expect(new Set(bytes.map(hash)).size).toBe(3);
  expect((await inProcess({ out, camera: true })).stdout).toContain(', 1 whole frame and fringes.html');
  expect(readdirSync(out)).not.toContain('frame-displaced-1.png');
});

test('no whole frame of a camera with absurdly many pixels', async () => {
  const large = scenarioFile(
    soundScenario((text) => text.replace('fNumber: 3.2', 'fNumber: 3.2, pixelsAcrossBeam: 50000')),
  );
  const { code, stderr } = await datumlight([
    'fringes',
    large,
    '--out',
    join(folder(), 'out'),
    '--camera',
    ...SMALL,
  ]);
  expect(code).toBe(2);
  expect(stderr).toMatch(/50000 pixels across the beam; whole frames have at most 8192/);
});

test('pictures never take the place of what make wrote', async () => {
  const out = join(folder(), 'out');
  await datumlight(['make', sound, '--out', out]);
  const before = readdirSync(out);
  const { code, stderr } = await datumlight(['fringes', sound, '--out', out, ...SMALL]);
  expect(code).toBe(2);
  expect(stderr).toMatch(/contains a package written by make/);
  expect(readdirSync(out)).toEqual(before);
});

test('a screen shows no fringes, and says so when asked for', async () => {
  const scenario = scenarioFile(
    soundScenario((text) => text.replace('kind: ball, diameter: 0.5 in', 'kind: screen')),
  );
  const out = join(folder(), 'out');
  const all = await datumlight(['fringes', scenario, '--out', out, ...SMALL]);
  expect(all.code).toBe(0);
  expect(readdirSync(out).filter((name) => name.includes('near-1'))).toEqual([]);
  const one = await datumlight(['fringes', scenario, '--out', out, '--patch', 'near-1']);
  expect(one.code).toBe(2);
  expect(one.stderr).toMatch(/patch near-1 sends its light/);
});

test('a design that breaks rules has its pictures all the same, diffraction and all', async () => {
  const out = join(folder(), 'out');
  const args = ['--patch', 'near-1', '--diffraction', '--view', 'part', ...SMALL];
  expect((await datumlight(['fringes', example('broken-rules'), '--out', out, ...args])).code).toBe(0);
});

test('in a terminal: dots that fit its width, without colour; none in a dumb one', async () => {
  const at = ['north: [0.1, 0, 0]'];
  for (const columns of [40, 80, 132]) {
    const env = { TERM: 'xterm-256color', NO_COLOR: '1' };
    const { stdout } = await inProcess({ at }, { env, columns, isTTY: true });
    const drawn = stdout.split('\n').filter((line) => /[\u2801-\u28ff]/.test(line));
    expect(drawn.length).toBeGreaterThan(10);
    for (const line of drawn) expect(line.length).toBeLessThanOrEqual(columns);
    expect(stdout).not.toContain('\u001b');
    expect(stdout).toMatch(/displaced: 100 µm off/);
  }
  const dumb = await inProcess({ at }, { env: { TERM: 'dumb' }, columns: 80, isTTY: true });
  expect(dumb.stdout).not.toMatch(/[\u2800-\u28ff]/);
});
