/**
 * A bench file, YAML, to what it says of the bench, or to findings with their places:
 *
 *     camera: {view: interferometer, turned: 90, mirrored: false, centre: [511.5, 498], pixelsPerMm: 6.4}
 */
import { byPlace, errorFinding, type Finding, pathText } from '../../finding/finding.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { CameraPlace } from '../../scenario/camera-place.ts';
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import { shown, typeOf } from '../yaml/values.ts';
import { benchCameraOf } from './camera-entry.ts';
import { type Say, unknownKeys } from './entry-values.ts';

interface ReadBench {
  readonly camera: Partial<CameraOrientation>;
  /** Undefined where the file does not say. */
  readonly place?: CameraPlace;
  /** In the order of the file, each with its place. */
  readonly findings: readonly Finding[];
}

const FORMAT = 'datumlight-bench/1';
const WORDS = { holds: 'bench', start: 'start with `camera:`' };
const TOP = ['camera', 'format'];

export function readBench(text: string, file: string): ReadBench {
  const { findings: yaml, data, places } = parseYaml(text, file, WORDS);
  if (data === undefined) return { camera: {}, findings: yaml };
  const findings: Finding[] = [...yaml];
  const say: Say = (rule, path, message, hint, atKey = false) => {
    const place = atKey ? places.ofKey(path) : places.ofValue(path);
    findings.push({ ...errorFinding(rule, pathText(path, file), message, hint, place), path });
    return undefined;
  };
  if (!isObject(data)) {
    say('wrong-type', [], `the file is ${typeOf(data)}`, WORDS.start);
    return { camera: {}, findings };
  }
  const known = unknownKeys(data, [], TOP, say);
  if (data.format !== undefined && data.format !== FORMAT)
    say('bad-value', ['format'], `\`format\` is ${shown(data.format)}`, `expected \`${FORMAT}\``);
  if (data.camera === undefined && known)
    say('missing-key', [], 'the file has no `camera`', 'add e.g. `camera: {turned: 90, mirrored: false}`');
  return { ...benchCameraOf(data.camera, ['camera'], say), findings: byPlace(findings) };
}
