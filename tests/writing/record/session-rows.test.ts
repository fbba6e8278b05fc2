/** A round of a session in a record: where the hologram is out of place it is moved first, by what `steer` itself asks for. */
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { readSession } from '../../../src/reading/bench/read-session.ts';
import { sessionRows } from '../../../src/writing/record/session-rows.ts';
import { run } from '../../end-to-end/support/command.ts';
import { exampleDesign } from '../../metrology/support/bench.ts';
import '../../machine/patience.ts';

const design = exampleDesign('full-bench');
const now = { sha256: 'a', files: {} };

function rowOf(tilt: number, codes: readonly string[]) {
  const readings = [{ patch: 'return-ring', fringes: [tilt, 0] }];
  const round = { readings, found: { codes }, asked: null };
  const text = JSON.stringify({ format: 'datumlight-session/1', scenario: now, rounds: [round] });
  const { session, findings } = readSession(text, 's.json', design.scenario, now);
  expect(findings).toEqual([]);
  const [row] = sessionRows(design, session!.rounds, () => ({ x: 0, y: 0, z: 0, rx: 0, ry: 0, rz: 0 }));
  return row!;
}

test('a hologram over its uncertainty is moved first, as `steer` says, unless its answer was refused', async () => {
  const input = 'readings: [{patch: return-ring, fringes: [2, 0]}]';
  const { stdout } = await run(['steer', 'examples/full-bench.yaml', '--readings', '-', '--json'], input);
  const { move_um, move_urad } = parse(stdout).hologram;
  const { hologram, asked } = rowOf(2, []);
  expect(asked).toBeNull();
  for (const [axis, value] of Object.entries({ ...move_um, ...move_urad }))
    expect({ ...hologram!.move_um, ...hologram!.move_urad }[axis as 'x']).toBeCloseTo(value as number, 6);
  expect(Math.abs(hologram!.move_urad.rx) + Math.abs(hologram!.move_urad.ry)).toBeGreaterThan(0);
  expect(rowOf(2, ['moves-differ']).hologram).toBeNull();
  expect(rowOf(0, []).hologram).toBeNull();
});
