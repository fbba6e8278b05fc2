/** Sessions and tables of readings with bytes changed by chance: read, or refused with findings that have codes and places; never a fault. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readReadings } from '../../src/reading/bench/read-readings.ts';
import { readSession } from '../../src/reading/bench/read-session.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { deviates } from '../independent/random.ts';

const SCENARIO = readScenario(readFileSync('examples/steer-mirror-on-stage.yaml', 'utf8'), 's').scenario!;
const HASHES = { sha256: 'ab12', files: { 'mesh.stl': 'cd34' } };
const SESSION = `format: datumlight-session/1
scenario: {sha256: ab12, files: {mesh.stl: cd34}}
rounds:
  - round: 1
    camera: {view: interferometer, turned: 90, mirrored: true}
    readings:
      - {patch: north-near, fringes: 2.7}
      - {patch: north-far, fringes: "-1/4", sign: unknown, uncertainty: 0.2}
    confirmed: false
    settled: [part]
    setAside: [north-far]
    found: {codes: []}
    asked:
      fraction: 0.5
      part: {move_um: {x: -80, y: 60, z: -98}, move_urad: {rx: -211, ry: 159, rz: -248}}
      references: {north: {move_um: {x: 1, y: 2, z: 3}}}
      screws: {tip: 0.1}
  - {round: 2, readings: [{patch: east-rim, fringes: 0}], asked: null}
`;
const TABLE =
  'patch;fringes;power;sign;uncertainty\n# at noon\nnorth-near;2 1/2;;;0,2\n"north-far";−1;;unknown;\n3;½\n';
const TRIED = 400;
const PIECES = [...':;,-~"\'[]{}#&*!|>%@`\t\n 019xé½−', 'null', '.nan', '1e999', '- ', '\ufeff', '<<: '];

function changed(text: string, uniform: () => number): string {
  let now = text;
  for (let k = 0; k < 2 * uniform(); k++) {
    const at = Math.floor(uniform() * now.length);
    const piece = PIECES[Math.floor(uniform() * PIECES.length)]!;
    now = now.slice(0, at) + piece + now.slice(at + Math.floor(2 * uniform()));
  }
  return now;
}

it.each([
  ['a session', SESSION, (text: string) => readSession(text, 'f', SCENARIO, HASHES)],
  [
    'a table',
    TABLE,
    (text: string) => readReadings(text, 'f', SCENARIO, ['north-near', 'north-far', 'north-rim']),
  ],
] as const)('%s', (_, text, read) => {
  const whole = read(text);
  expect(whole.findings).toEqual([]);
  const { uniform } = deviates(7);
  let refused = 0;
  for (let k = 0; k < TRIED; k++) {
    const tried = changed(text, uniform);
    const result = read(tried);
    const isRead = 'session' in result || 'readings' in result;
    expect(isRead, tried).toBe(result.findings.length === 0);
    for (const { rule, place, message } of result.findings) {
      expect(rule, tried).toMatch(/^[a-z-]+$/);
      expect(place?.file, `${message}\n${tried}`).toBe('f');
    }
    if (!isRead) refused++;
  }
  expect(refused).toBeGreaterThan(TRIED / 10);
  expect(refused).toBeLessThan(TRIED);
});
