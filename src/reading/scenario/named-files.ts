/** Which files a scenario names, without reading them: the meshes of the part's envelope and of obstacles. */
import { isObject } from '../yaml/field.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';

/** A name under a key `mesh`, or under one that an escape hides. */
const MAY_NAME = /mesh|\\/;

/** As written, each once, in the order of the file; none of a text that is no YAML. */
export function namedFiles(text: string): readonly string[] {
  if (!MAY_NAME.test(text)) return [];
  const { data } = parseYaml(text, '');
  const part = isObject(data) && isObject(data.part) ? listOf(data.part.envelope) : [];
  const obstacles = isObject(data) ? listOf(data.obstacles) : [];
  const solids = [...part, ...obstacles.flatMap((one) => (isObject(one) ? listOf(one.solids) : []))];
  const names = solids.flatMap((solid: unknown): readonly string[] => {
    const file = isObject(solid) && isObject(solid.mesh) ? solid.mesh.file : undefined;
    return typeof file === 'string' ? [file] : [];
  });
  return [...new Set(names)];
}

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
