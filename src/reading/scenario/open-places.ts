/**
 * Takes the places that a scenario leaves open (`auto`) out of its data, so that schema and builders see a closed one, and tells
 * where they are: a patch's `centre`, `outline` (within its `size`) and `lineAngle`, a reference's `use` and `patches`. mm.
 */
import type { Path } from '../../finding/finding.ts';
import type { Focus } from '../../kinds/kind.ts';
import { KINDS, kindNamed } from '../../kinds/kinds.ts';
import type { OpenPatch, OpenPlaces, OpenReference } from '../../scenario/open-places.ts';
import { FAULTY, type Field, isObject, type Read } from '../yaml/field.ts';
import { POSITIVE, quantity } from '../yaml/values.ts';

export const AUTO = 'auto';

interface Closed {
  /** With stand-ins where something was open. */
  readonly data: unknown;
  /** Where the open places stand, in the order of the file. */
  readonly paths: readonly Path[];
}

/** Stand-ins for what is open: any value that the schema accepts. */
const STAND_INS = { centre: [0, 0], lineAngle: 0, outline: { circle: { diameter: 1 } } };

export function closed(data: unknown): Closed {
  if (!isObject(data)) return { data, paths: [] };
  const paths: Path[] = [];
  const each = (key: string, change: (item: Record<string, unknown>, path: Path) => unknown): unknown => {
    const list = data[key];
    if (!Array.isArray(list)) return list;
    return list.map((item, i) => (isObject(item) ? change(item, [key, i]) : item));
  };
  const references = each('references', (item, path) => {
    const open = ['use', 'patches'].filter((key) => own(item, key) === AUTO);
    paths.push(...open.map((key) => [...path, key]));
    return Object.fromEntries(Object.entries(item).filter(([key]) => !open.includes(key)));
  });
  const patches = each('patches', (item, path) => {
    const copy = { ...item };
    for (const key of ['centre', 'outline', 'lineAngle'] as const) {
      if (own(item, key) !== AUTO) continue;
      paths.push([...path, key]);
      copy[key] = STAND_INS[key];
    }
    return copy;
  });
  if (paths.length === 0) return { data, paths };
  return { data: { ...data, ...(references ? { references } : {}), ...(patches ? { patches } : {}) }, paths };
}

/** The open places as the planner takes them, from the data as written; FAULTY where a size range is not sound. */
export function openPlaces(root: Field): Read<OpenPlaces> {
  let faulty = false;
  const patches = root.items('patches').flatMap((item, index): OpenPatch[] => {
    const centre = item.get('centre').value === AUTO;
    const lineAngle = item.get('lineAngle').value === AUTO;
    const range = item.get('size');
    const [least, most] = ['least', 'most'].map((key) =>
      quantity(range.get(key), 'length', POSITIVE, undefined),
    );
    if (notPlanned(item) || least === FAULTY || most === FAULTY) {
      faulty = true;
      return [];
    }
    const size = item.get('outline').value === AUTO ? { least, most } : undefined;
    return centre || lineAngle || size !== undefined ? [{ index, centre, lineAngle, size }] : [];
  });
  const references = root.items('references').flatMap((item): OpenReference[] => {
    const [id, use, all] = [item.get('id').value, item.get('use').value, item.get('patches').value];
    const planning = kindNamed(item.get('kind').value)?.planning;
    if (all === AUTO && planning?.by === 'nobody') {
      item.get('patches').report('conflicting-keys', planning.why, planning.ratherFor(String(id)));
      faulty = true;
    }
    return typeof id === 'string' && (use === AUTO || all === AUTO)
      ? [{ id, use: use === AUTO, patches: all === AUTO }]
      : [];
  });
  return faulty ? FAULTY : { patches, references };
}

/** Reports places left open of a patch that the planner cannot place, by its focus. */
function notPlanned(item: Field): boolean {
  const focus = item.get('focus').value;
  const planning = KINDS.find(({ inScenario }) => inScenario.foci.includes(focus as Focus))?.planning;
  if (planning === undefined || planning.by === 'patches') return false;
  const open = ['centre', 'outline', 'lineAngle'].filter((key) => item.get(key).value === AUTO);
  for (const key of open) {
    const message = `\`plan\` does not change a patch with \`focus: ${focus}\``;
    item.get(key).report('conflicting-keys', message, planning.instead);
  }
  return open.length > 0;
}

const own = (item: Record<string, unknown>, key: string): unknown =>
  Object.hasOwn(item, key) ? item[key] : undefined;
