/** Why a plan does not do what is asked, in words: which wish fails by how much, what binds, what would have to change. */
import type { Finding } from '../finding/finding.ts';
import { trimmed } from '../quantity/format.ts';
import { RULES } from '../rules/all-rules.ts';
import type { Reference } from '../scenario/scenario.ts';
import type { Layout } from './layout.ts';
import { type Placement, placementOf, type Slot } from './slot.ts';

export function reasonsOf(
  layout: Layout,
  homeless: readonly Slot[],
  roomless: readonly Reference[],
  errors: readonly Finding[],
): readonly string[] {
  return [
    ...[...new Set(homeless)].map((slot) => homelessWords(layout, slot)),
    ...roomless.map(roomlessWords),
    ...errors.filter(({ rule }) => rule === 'not-observed').map(unseenWords),
    ...missedWords(
      layout,
      errors.filter(({ rule }) => rule === 'misses-wanted'),
    ),
    ...errors
      .filter(({ rule }) => rule !== 'not-observed' && rule !== 'misses-wanted')
      .map(({ rule, message }) => `${message} (${rule})`),
  ];
}

/** What to change about a rule that struck places off. */
const helpsOf = (code: string | undefined): string | undefined =>
  RULES.find((rule) => rule.code === code)?.planning.helps;

function homelessWords({ check, grid }: Layout, { id, reference, forms, outline }: Slot): string {
  const counts = [...(check.struckOff.get(reference.id) ?? [])].sort((a, b) => b[1] - a[1]);
  const size =
    outline !== undefined
      ? 'in its outline'
      : forms.sizes.length === 0
        ? `within its size (${forms.leastBy} asks for more than the largest allowed)`
        : `of ${trimmed(forms.sizes[0]!, 1)} mm or more`;
  if (forms.sizes.length === 0 && outline === undefined)
    return `patch ${id} has no size for ${reference.id} ${size}: allow a larger one, or bring ${reference.id} nearer`;
  const binding = counts[0]?.[0];
  if (binding === undefined)
    return `patch ${id} ${size} has no place for ${reference.id}: ${grid.sites.length === 0 ? 'the glass has no free area' : 'the free area is taken'}; what would help is a larger substrate, or fewer and smaller patches`;
  const listed = counts.map(([rule, count]) => `${rule} ${count} times`).join(', ');
  return `patch ${id} ${size} has no place for ${reference.id} among ${grid.sites.length} sites: ${listed} was in the way; what would help is ${helpsOf(binding) ?? 'another place for the reference'}`;
}

const roomlessWords = ({ id }: Reference): string =>
  `no whole return ring about the beam's middle has a place for ${id}, as wide as the camera asks for and with features that the process can write; ` +
  `what would help is a larger substrate or smaller keep-outs, or patches of your own with \`focus: return\`, such as sectors`;

const unseenWords = ({ where, message }: Finding): string =>
  `${where}: ${message}; what would help is one more reference away from the others, held against that motion`;

function missedWords(layout: Layout, missed: readonly Finding[]): string[] {
  if (missed.length === 0) return [];
  const words = missed.map(
    ({ where, value, limit, unit }) =>
      `${where} fails by a factor of ${trimmed(value! / limit!, 2)}: ${trimmed(value!, 2)} ${unit} against ${trimmed(limit!, 2)} ${unit}`,
  );
  const factor = Math.max(...missed.map(({ value, limit }) => value! / limit!));
  return [
    ...words,
    `what binds: ${bindingWords(layout)}`,
    `what would help: patches about ${trimmed(factor, 2)} times as wide across what they sense, references at about ` +
      `1/${trimmed(factor, 2)} of their distance, or ${Math.ceil(factor * factor - 1)} more like each of the present patches; one more ` +
      `SMR helps most where it stands far from the others`,
  ];
}

/** What keeps the patches from growing. */
function bindingWords(layout: Layout): string {
  const stops = new Map<string, number>();
  for (const placement of layout.placements.values()) {
    const stop = stopOf(layout, placement);
    stops.set(stop, (stops.get(stop) ?? 0) + 1);
  }
  const listed = [...stops]
    .sort((a, b) => b[1] - a[1])
    .map(([stop, count]) => `${stop} (${count} of ${layout.placements.size} patches)`);
  return listed.length === 0 ? 'no patch has a place' : listed.join('; ');
}

function stopOf(layout: Layout, { slot, centre, angle, size }: Placement): string {
  if (slot.outline !== undefined) return 'the outline that the file gives';
  const next = slot.forms.sizes.find((one) => one > size + 1e-9);
  if (next === undefined) return `the largest size allowed, ${trimmed(size, 1)} mm`;
  const wider = placementOf(layout.design, slot, centre, angle, next);
  return layout.isFree(wider)
    ? 'a larger one tells hardly more'
    : 'the free area: a larger one does not fit beside the others and the rules';
}
