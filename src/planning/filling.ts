/** What a plan puts into the places of the scenario's file that were open, as YAML values by path. */
import type { Outline } from '../geometry/outline.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { DEG_PER_RAD } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import type { OpenPlaces } from '../scenario/open-places.ts';
import type { Patch } from '../scenario/scenario.ts';
import type { Plan } from './plan.ts';

type Path = readonly (string | number)[];

interface PlanFilling {
  readonly values: readonly { readonly path: Path; readonly yaml: string }[];
  readonly added: readonly string[];
  /** What still says `auto`, because the plan has nothing to put there. */
  readonly left: readonly LeftOpen[];
}

interface LeftOpen {
  readonly path: Path;
  /** Whose place it is: `patch p`, `reference a`. */
  readonly of: string;
}

/** Decimals that lose nothing of what the planner chooses: tenths of a mm, twelfths of half a turn. */
const DECIMALS = 6;

/** `ids`: of the references as the file lists them, used or not. */
export function fillingOf(
  { planned, unused, scenario }: Plan,
  open: OpenPlaces,
  ids: readonly string[],
): PlanFilling {
  const values: { path: Path; yaml: string }[] = [];
  for (const { patch, index } of planned) {
    const asked = open.patches.find((one) => one.index === index);
    if (index === undefined || asked === undefined) continue;
    const at = (key: string): Path => ['patches', index, key];
    if (asked.centre) values.push({ path: at('centre'), yaml: point(patch.centre) });
    if (asked.size !== undefined) values.push({ path: at('outline'), yaml: outlineYaml(patch) });
    if (asked.lineAngle && patch.lineAngle !== undefined)
      values.push({ path: at('lineAngle'), yaml: angle(patch.lineAngle) });
  }
  const left: LeftOpen[] = [];
  const placed = new Set(planned.map(({ index }) => index));
  for (const { index, centre, size, lineAngle } of open.patches) {
    if (placed.has(index)) continue;
    const asked = { centre, outline: size !== undefined, lineAngle };
    for (const [key, isOpen] of Object.entries(asked))
      if (isOpen) left.push({ path: ['patches', index, key], of: `patch ${scenario.patches[index]!.id}` });
  }
  const added = planned.filter(({ index }) => index === undefined).map(({ patch }) => patch);
  for (const { id, use, patches } of open.references) {
    const at = (key: string): Path => ['references', ids.indexOf(id), key];
    const isUnused = unused.some((reference) => reference.id === id);
    if (use) values.push({ path: at('use'), yaml: String(!isUnused) });
    const own = added.filter(({ reference }) => reference === id).map((patch) => patch.id);
    // A reference that got no patch although it should stays open.
    if (patches && (own.length > 0 || isUnused))
      values.push({ path: at('patches'), yaml: `[${own.join(', ')}]` });
    else if (patches) left.push({ path: at('patches'), of: `reference ${id}` });
  }
  return { values, added: added.map(patchYaml), left };
}

function patchYaml(patch: Patch): string {
  const { id, reference, focus, centre, lineAngle, bias } = patch;
  const words = [
    `id: ${id}`,
    `reference: ${reference}`,
    `focus: ${focus}`,
    `centre: ${point(centre)}`,
    `outline: ${outlineYaml(patch)}`,
  ];
  if (lineAngle !== undefined) words.push(`lineAngle: ${angle(lineAngle)}`);
  if (bias !== undefined) {
    const direction = bias.direction === undefined ? '' : `, direction: ${angle(bias.direction)}`;
    words.push(`bias: {shape: ${bias.shape}, fringes: ${trimmed(bias.fringes, DECIMALS)}${direction}}`);
  }
  return `{${words.join(', ')}}`;
}

const outlineYaml = ({ outline }: Patch): string => `{${shapeYaml(outline)}}`;

/** The planner's own outlines are circles, rectangles and rings about the patch's centre. */
function shapeYaml(outline: Outline): string {
  if (outline.shape === 'circle') return `circle: {diameter: ${length(2 * outline.radius)}}`;
  if (outline.shape === 'rectangle') {
    const { width, height, rotation } = outline;
    const turned = rotation === 0 ? '' : `, rotation: ${angle(rotation)}`;
    return `rectangle: {width: ${length(width)}, height: ${length(height)}${turned}}`;
  }
  if (outline.shape === 'ring')
    return `ring: {inner: ${length(2 * outline.inner)}, outer: ${length(2 * outline.outer)}}`;
  throw new RangeError(`the planner makes circles, rectangles and rings, no ${outline.shape}`);
}

const length = (mm: number): string => trimmed(mm, DECIMALS);
const point = ([x, y]: Vec2): string => `[${length(x)}, ${length(y)}]`;
const angle = (radians: number): string => `${trimmed(radians * DEG_PER_RAD, DECIMALS)} deg`;
