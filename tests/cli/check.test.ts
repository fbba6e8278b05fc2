/** `check` through the real executable: what it says, where it says it, and each exit code. */
import { expect, test } from 'vitest';
import { datumlight, example, executable, scenarioFile, soundScenario } from './support/run.ts';

test('a sound scenario: exit 0, a line and the table', async () => {
  const { code, stdout, stderr } = await datumlight(['check', scenarioFile(soundScenario())]);
  expect(stderr).toBe('');
  expect(stdout).toMatch(/scenario\.yaml: fine: 2 patches, 2 references, 0 errors/);
  expect(code).toBe(0);
});

test.each(['diverging-balls', 'converging-retroreflectors', 'infrared-collimated'])(
  'example %s is fine',
  async (name) => {
    const { code, stdout, stderr } = await datumlight(['check', example(name)]);
    expect({ code, stderr, stdout }).toMatchObject({ code: 0, stderr: '' });
  },
);

test('a design that breaks several rules: exit 1, every rule named, with the patches and the figures', async () => {
  const { code, stdout } = await datumlight(['check', example('broken-rules')]);
  expect(code).toBe(1);
  for (const rule of [
    'patch-overlap',
    'keep-out',
    'off-substrate',
    'unlit',
    'feature-too-small',
    'bias-cancels',
    'undersampled',
  ]) {
    expect(stdout).toContain(rule);
  }
  expect(stdout).toMatch(/near-1 and near-2 overlap by 0\.2 mm; the minimum gap is 0\.5 mm/);
});

test('six faults: six reports, each with its line and column, exit 2', async () => {
  const file = scenarioFile(
    soundScenario(
      (text) =>
        text
          .replace('title: Sound', 'titel: Sound') // unknown key
          .replace('wavelength: 632.8 nm', 'wavelength: 632.8 parsec') // unknown unit
          .replace('edgeMargin: 3', 'edgeMargin: [3]') // wrong type
          .replace('reference: north\n', 'reference: nort\n') // unknown reference
          .replace('shape: roof', 'shape: rooof') // value not in the list
          .replace('id: near-1', 'id: north-1'), // same id twice
    ),
  );
  const { code, stderr } = await datumlight(['check', file]);
  expect(code).toBe(2);
  const places = [...stderr.matchAll(/scenario\.yaml:(\d+):(\d+):/g)].map(
    ([, line, column]) => `${line}:${column}`,
  );
  expect(places).toHaveLength(6);
  expect(new Set(places).size).toBe(6);
  expect(places.map((place) => Number(place.split(':')[0]))).toEqual([2, 3, 7, 14, 19, 20]);
  expect(stderr).toMatch(/did you mean/);
});

test('--json: one document and nothing else, for a fine, a broken and an unusable scenario', async () => {
  const fine = await datumlight(['check', '--json', scenarioFile(soundScenario())]);
  const report = JSON.parse(fine.stdout);
  expect(report.ok).toBe(true);
  expect(report.patches.map((patch: { id: string }) => patch.id)).toEqual(['north-1', 'near-1']);
  const broken = await datumlight(['check', '--json', example('broken-rules')]);
  expect(broken.code).toBe(1);
  const rules = new Set(JSON.parse(broken.stdout).findings.map((finding: { rule: string }) => finding.rule));
  expect(rules.size).toBeGreaterThanOrEqual(6);
  const unusable = await datumlight(['check', '--json', scenarioFile('format: nonsense\n')]);
  expect(unusable).toMatchObject({ code: 2, stderr: '' });
  expect(JSON.parse(unusable.stdout).findings.length).toBeGreaterThan(0);
});

test('several files: one bad one does not stop the others, and the worst code counts', async () => {
  const sound = scenarioFile(soundScenario());
  const { code, stdout, stderr } = await datumlight(['check', 'no-such-file.yaml', sound]);
  expect(code).toBe(2);
  expect(stderr).toMatch(/no-such-file\.yaml.*cannot be read/);
  expect(stdout).toContain('fine');
});

test('a scenario on standard input', async () => {
  const { code, stdout } = await datumlight(['check', '-'], { input: soundScenario() });
  expect(code).toBe(0);
  expect(stdout).toContain('<stdin>');
});

test('--quiet hides the summary, not a finding', async () => {
  const { stdout } = await datumlight(['check', '--quiet', example('broken-rules')]);
  expect(stdout).toContain('patch-overlap');
  expect(stdout).not.toMatch(/broken: \d+ patches/);
});

test.each([[['chek', 'x.yaml']], [['check']], [['check', '--no-such-option', 'x']], [['make', 'x.yaml']]])(
  'a command line that cannot be used, %j: exit 2, no stack trace',
  async (args) => {
    const { code, stderr } = await datumlight(args);
    expect(code).toBe(2);
    expect(stderr).toMatch(/error:/);
    expect(stderr).not.toMatch(/\n {4}at /);
  },
);

test('--help and --version are fine', async () => {
  expect((await datumlight(['--help'])).stdout).toMatch(/check[\s\S]*make[\s\S]*phase/);
  expect((await datumlight(['--version'])).stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
  for (const command of ['check', 'make', 'phase']) {
    const { code, stdout } = await datumlight([command, '--help']);
    expect(code).toBe(0);
    expect(stdout).toMatch(/Example/);
  }
});

test('no colour off a terminal, whatever is asked', async () => {
  const { stdout } = await executable(['check', example('broken-rules')], {
    env: { FORCE_COLOR: '1', TERM: 'xterm-256color' },
  });
  expect(stdout).not.toContain('\u001B');
});
