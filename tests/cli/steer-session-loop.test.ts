/**
 * An alignment through the executable, by the session file alone: an independent operator reads, makes the turns that the file asks for with
 * an error of 3 %, and reads again, until the program says that it is done; the part then stands within three standard uncertainties.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { deviates } from '../independent/random.ts';
import { sixOf } from '../independent/stage-operator.ts';
import { benchOf, misaligned } from '../metrology/support/session-loop.ts';
import { datumlight, example, folder } from './support/run.ts';

const MOST_ROUNDS = 8;

test('a session leads from a fifth of a millimetre off to the place that the datums ask for', async () => {
  const { uniform, normal } = deviates(11);
  const bench = benchOf(normal);
  const session = join(folder(), 'session.yml');
  let pose = misaligned(uniform, 0.2);
  for (let round = 1; ; round++) {
    const rows = [...bench.read(pose)].map(([patch, count]) => `${patch},${count}`);
    const { code, stdout } = await datumlight(
      ['steer', example('steer-mirror-on-stage'), '--session', session, '--readings', '-', '--json'],
      { input: `patch,fringes\n${rows.join('\n')}\n` },
    );
    expect(code).toBe(0);
    const report = JSON.parse(stdout);
    expect(report.session.round).toBe(round);
    if (report.done) {
      const off = sixOf(pose).map((value, k) => {
        const sigma = report.part.combined[['x', 'y', 'z', 'rx', 'ry', 'rz'][k]!];
        return Math.abs((value * (k < 3 ? 1e3 : 1e6)) / sigma);
      });
      expect(Math.max(...off)).toBeLessThan(3);
      return;
    }
    expect(round).toBeLessThan(MOST_ROUNDS);
    const { screws } = parse(readFileSync(session, 'utf8')).rounds.at(-1).asked;
    pose = bench.turned(pose, (id) => screws[id]);
  }
});
