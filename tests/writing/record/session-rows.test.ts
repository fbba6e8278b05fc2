/** A round of a session in a record: where the hologram is out of place it is moved first, by what `steer` itself asks for. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { parse } from 'yaml';
import { readSession } from '../../../src/reading/bench/read-session.ts';
import { sessionRows } from '../../../src/writing/record/session-rows.ts';
import { run } from '../../end-to-end/support/command.ts';
import { exampleDesign } from '../../metrology/support/bench.ts';
import '../../machine/patience.ts';

const design = exampleDesign('full-bench');
const folder = mkdtempSync(join(tmpdir(), 'rows-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** What `steer` answers to so many fringes of the ring, and the record's row of the session that it keeps. */
async function rowOf(tilt: number) {
  const path = join(folder, `${tilt}.json`);
  const input = `readings: [{patch: return-ring, fringes: [${tilt}, 0]}]`;
  const options = ['--readings', '-', '--session', path, '--json'];
  const { stdout } = await run(['steer', 'examples/full-bench.yaml', ...options], input);
  const text = readFileSync(path, 'utf8');
  const { session, findings } = readSession(text, path, design.scenario, parse(text).scenario);
  expect(findings).toEqual([]);
  const [row] = sessionRows(design, session!.rounds, () => ({ x: 0, y: 0, z: 0, rx: 0, ry: 0, rz: 0 }));
  return { row: row!, told: parse(stdout).hologram };
}

test('a hologram over its uncertainty is moved first, and alone, as `steer` says', async () => {
  const { row, told } = await rowOf(2);
  const { hologram, part, references } = row.asked!;
  expect({ part, references }).toEqual({ part: null, references: {} });
  for (const [axis, value] of Object.entries({ ...told.move_um, ...told.move_urad }))
    expect({ ...hologram!.move_um, ...hologram!.move_urad }[axis as 'x']).toBeCloseTo(value as number, 6);
  expect(Math.abs(hologram!.move_urad.rx) + Math.abs(hologram!.move_urad.ry)).toBeGreaterThan(0);
});

test('a hologram whose ring is at its null is not moved', async () => {
  expect((await rowOf(0)).row.asked?.hologram).toBeUndefined();
});
