/** Why a plan does not do what is asked, in words: which wish fails by how much, what binds, what would have to change. */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { remediesFor, wishAdvice } from '../metrology/estimate/wish-advice.ts';
import { figureError } from '../metrology/null/figure-error.ts';
import { trimmed } from '../quantity/format.ts';
import { RULES } from '../rules/all-rules.ts';
import { noReturn } from '../rules/no-return.ts';
import { DEGREES, type Reference } from '../scenario/scenario.ts';
import type { Layout } from './layout.ts';
import { type Placement, placementOf, type Slot } from './slot.ts';

export function reasonsOf(
  layout: Layout,
  homeless: readonly Slot[],
  unasked: ReadonlySet<Slot>,
  roomless: readonly Reference[],
  found: readonly Finding[],
  design: Design,
): readonly string[] {
  // A patch without a place stands wherever its stand-in does: what breaks there tells nothing.
  const nowhere = new Set(homeless.map(({ id }) => id));
  const errors = found.filter(({ patches = [] }) => !patches.some((id) => nowhere.has(id)));
  return [
    ...[...new Set(homeless)].map((slot) => homelessWords(layout, slot, unasked.has(slot))),
    ...roomless.map(roomlessWords),
    ...errors.filter(({ rule }) => rule === 'not-observed').map(unseenWords),
    ...missedWords(
      layout,
      errors.filter(({ rule }) => rule === 'misses-wanted'),
      errors.filter(({ rule }) => rule === 'misses-figure'),
      design,
    ),
    ...errors.filter(({ rule }) => !TOLD_APART.has(rule)).map(({ rule, message }) => `${message} (${rule})`),
    ...(layout.work.isSpent ? [SPENT] : []),
  ];
}

const TOLD_APART: ReadonlySet<string> = new Set(['not-observed', 'misses-wanted', 'misses-figure']);

const SPENT =
  'the search reached its limit of work and did not try everything; for a better result give some places yourself, or plan fewer references at a time';

/** What to change about a rule that struck places off. */
const helpsOf = (code: string | undefined): string | undefined =>
  RULES.find((rule) => rule.code === code)?.planning.helps;

function homelessWords({ check, grid }: Layout, slot: Slot, isUnasked: boolean): string {
  const { id, reference, forms, outline } = slot;
  const counts = [...(check.struckOff.get(reference.id) ?? [])].sort((a, b) => b[1] - a[1]);
  const size =
    outline !== undefined
      ? 'in its outline'
      : forms.sizes.length === 0
        ? `within its size range (${forms.leastBy} needs more than the largest size allowed)`
        : `of ${trimmed(forms.sizes[0]!, 1)} mm or more`;
  if (forms.sizes.length === 0 && outline === undefined)
    return `no size fits patch ${id} for ${reference.id} ${size}: allow a larger size, or move ${reference.id} closer`;
  const binding = counts[0]?.[0];
  if (isUnasked && binding === undefined)
    return `no place was looked for of patch ${id} ${size} for ${reference.id}: the search reached its limit of work first`;
  if (binding === undefined)
    return `there is no place for patch ${id} ${size} for ${reference.id}: ${grid.sites.length === 0 ? 'the glass has no free area' : 'the free area is taken'}; try a larger substrate, or fewer or smaller patches`;
  const listed = counts.map(([rule, count]) => `${rule} (${count})`).join(', ');
  const nearest = check.nearest.get(reference.id);
  const best = [...new Set([binding, noReturn.code])].flatMap((rule) => nearest?.get(rule)?.message ?? []);
  const found = best.length === 0 ? '' : `; at best, ${best.join('; ')}`;
  const none = isUnasked ? 'no place was found within the limit of work' : 'there is no place';
  return `${none} for patch ${id} ${size} for ${reference.id} among ${grid.sites.length} sites, ruled out by ${listed}${found}; try ${helpsOf(binding) ?? 'another position of the reference'}`;
}

const roomlessWords = ({ id }: Reference): string =>
  `there is no place for a whole return ring about the beam's axis for ${id} that is wide enough for the camera and coarse enough for the process; ` +
  `try a larger substrate or smaller keep-outs, or add your own patches with \`focus: return\`, such as sectors`;

const unseenWords = ({ where, message }: Finding): string =>
  `${where}: ${message}; try one more reference that touches the part, far from the others`;

/** What the rule says would help, and what keeps patches from growing where larger ones would. */
function missedWords(
  layout: Layout,
  missed: readonly Finding[],
  inFigure: readonly Finding[],
  design: Design,
): string[] {
  const words = [
    ...missed.map(
      ({ where, value, limit, unit, hint }) =>
        `${where} is too large by a factor of ${trimmed(value! / limit!, 2)}: ${trimmed(value!, 2)} ${unit}, wanted ${trimmed(limit!, 2)} ${unit}; ${hint}`,
    ),
    ...inFigure.map(({ where, message, hint }) => `${where} is not kept: ${message}; ${hint}`),
  ];
  const byPatches = DEGREES.some((degree, k) => {
    const isMissed = missed.some(({ path }) => path?.[1] === degree);
    return isMissed && wishAdvice(design, k, design.scenario.wanted[degree]!).byPatches;
  });
  return byPatches || figureByPatches(design, inFigure)
    ? [...words, `what limits the patches: ${bindingWords(layout)}`]
    : words;
}

function figureByPatches(design: Design, missed: readonly Finding[]): boolean {
  const error = missed.length === 0 ? undefined : figureError(design);
  const allowed = design.scenario.test?.figure;
  if (error === undefined || allowed === undefined || error.expected === null) return false;
  return remediesFor(design, error.terms, allowed * allowed).some(({ byPatches }) => byPatches);
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
  if (slot.outline !== undefined) return 'the outline given in the file';
  const next = slot.forms.sizes.find((one) => one > size + 1e-9);
  if (next === undefined) return `the largest size allowed, ${trimmed(size, 1)} mm`;
  const wider = placementOf(layout.design, slot, centre, angle, next);
  return layout.isFree(wider)
    ? 'a larger patch adds little information'
    : 'the free area: a larger patch breaks a rule or overlaps others';
}
