/** Which files a scenario names, without reading them: the meshes of the part's envelope and of obstacles, the grids of its aspheres. */
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';

/** A name under a key `mesh` or `grid`, or under one that an escape hides. */
const MAY_NAME = /mesh|grid|\\/;

/** As written, each once, in the order of the file; none of a text that is no YAML. */
export function namedFiles(text: string): readonly string[] {
  if (!MAY_NAME.test(text)) return [];
  const { data } = parseYaml(text, '');
  const part = isObject(data) && isObject(data.part) ? listOf(data.part.envelope) : [];
  const obstacles = isObject(data) ? listOf(data.obstacles) : [];
  const solids = [...part, ...obstacles.flatMap((one) => (isObject(one) ? listOf(one.solids) : []))];
  const datums = isObject(data) && isObject(data.part) && isObject(data.part.datums) ? data.part.datums : {};
  const grids = Object.values(datums).map((datum) => (isObject(datum) ? fileOf(datum.asphere, 'grid') : []));
  const meshes = solids.map((solid) => fileOf(solid, 'mesh'));
  return [...new Set([...grids, ...meshes].flat())];
}

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** The file of what stands under `key`. */
function fileOf(value: unknown, key: 'mesh' | 'grid'): readonly string[] {
  const named = isObject(value) ? value[key] : undefined;
  const file = isObject(named) ? named.file : undefined;
  return typeof file === 'string' ? [file] : [];
}
