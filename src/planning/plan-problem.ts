/** What there is to plan: the patches that stand, the slots that are open, and the references that are to be given patches. */
import type { Design } from '../design/design.ts';
import { designScenario } from '../design/design-scenario.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { PlannedPatches } from '../kinds/kind.ts';
import { kindOf } from '../kinds/kinds.ts';
import type { OpenPlaces, SizeRange } from '../scenario/open-places.ts';
import { asksAccuracy, type Patch, type Reference, type Scenario } from '../scenario/scenario.ts';
import { formsOf } from './patch-form.ts';
import { returnRing } from './return-ring.ts';
import { fringeDistance, moved, type Slot, slantOf } from './slot.ts';

export interface Problem {
  /** With the return rings. */
  readonly scenario: Scenario;
  /** With the given patches and the return rings alone. */
  readonly design: Design;
  readonly references: readonly Reference[];
  /** Return rings that the planner has placed: the last of the scenario's patches. */
  readonly rings: readonly Patch[];
  /** References that were to get a return ring, and have no room for a whole one. */
  readonly roomless: readonly Reference[];
  /** Open patches of the file. */
  readonly slots: readonly Slot[];
  readonly open: OpenPlaces;
  /** Whether there are wishes: otherwise patches of a common size are placed and left at that. */
  readonly wished: boolean;
  /** Whether strips may be as thin as the rules let them (patch-form.ts). */
  readonly slivers: boolean;
  /** The size to start from, mm. */
  readonly nominal: number;
}

/** A reference that is to be given patches. */
export interface Group {
  readonly reference: Reference;
  /** As many as it may get, in order. */
  readonly slots: readonly Slot[];
  readonly least: number;
  /** The planner decides whether it is used at all. */
  readonly candidate: boolean;
}

/** Common practice, mm: what patches start from, and stay at where nothing is wished. */
const COMMON_SIZE = 10;

/** Throws where the scenario cannot be designed at all: ask `designScenario` first. */
export function problemOf(given: Scenario, open: OpenPlaces, slivers = false): Problem {
  const isOpen = new Set(open.patches.map(({ index }) => index));
  const closed = given.patches.filter((_, i) => !isOpen.has(i));
  const { rings, roomless } = returnRings(given, closed, open);
  const scenario = { ...given, patches: [...given.patches, ...rings] };
  const design = designed({ ...given, patches: [...closed, ...rings] });
  const byId = new Map(scenario.references.map((reference) => [reference.id, reference]));
  const slots = open.patches.map(({ index, centre, lineAngle, size }): Slot => {
    const patch = scenario.patches[index]!;
    return slotOf(design, patch, byId.get(patch.reference)!, index, {
      centre: centre ? undefined : patch.centre,
      angle: lineAngle ? undefined : patch.lineAngle,
      // An outline is read about its centre: about [0, 0] where that is open.
      outline: size === undefined ? moved(patch.outline, [-patch.centre[0], -patch.centre[1]]) : undefined,
      range: size,
      slivers,
    });
  });
  return {
    scenario,
    design,
    references: scenario.references,
    rings,
    roomless,
    slots,
    open,
    wished: asksAccuracy(scenario),
    slivers,
    nominal: COMMON_SIZE,
  };
}

function designed(scenario: Scenario): Design {
  const made = designScenario(scenario);
  if ('findings' in made) throw new Error(made.findings.map(({ message }) => message).join('; '));
  return made.design;
}

/** One after the other, each inside the one before it and beside the patches that stand; where one has no room, the rest have none. */
function returnRings(
  given: Scenario,
  closed: readonly Patch[],
  { references }: OpenPlaces,
): Pick<Problem, 'rings' | 'roomless'> {
  const taken = new Set(given.patches.map(({ id }) => id.toLowerCase()));
  const [rings, roomless]: [Patch[], Reference[]] = [[], []];
  let within = Infinity;
  for (const { id, patches } of references) {
    const reference = given.references.find((one) => one.id === id);
    if (reference === undefined || !patches || kindOf(reference).planning.by !== 'ring') continue;
    const name = freeName(id, taken);
    const ring =
      roomless.length > 0
        ? undefined
        : returnRing(designed({ ...given, patches: [...closed, ...rings] }), reference, name, within);
    if (ring === undefined) roomless.push(reference);
    else rings.push(ring);
    if (ring?.outline.shape === 'ring') within = ring.outline.inner;
  }
  return { rings, roomless };
}

/** The next of `id-1`, `id-2` … that no patch has, in either case. */
function freeName(id: string, taken: Set<string>): string {
  for (let n = 1; ; n++) {
    const name = `${id}-${n}`;
    if (taken.has(name.toLowerCase())) continue;
    taken.add(name.toLowerCase());
    return name;
  }
}

/** A reference that a patch of the file or a measurement names is used, whatever the planner would choose. */
export function groupsOf({ scenario, design, open, references, slivers }: Problem): readonly Group[] {
  const taken = new Set(scenario.patches.map(({ id }) => id.toLowerCase()));
  const named = new Set([...scenario.patches, ...scenario.measurements].map(({ reference }) => reference));
  return open.references.flatMap(({ id, use, patches }): Group[] => {
    const reference = references.find((one) => one.id === id);
    const planning = reference && kindOf(reference).planning;
    if (reference === undefined || planning?.by !== 'patches' || !patches) return [];
    const [least, most] = planning.count;
    const slots = Array.from({ length: most }, () =>
      slotOf(design, addedPatch(freeName(id, taken), id, planning), reference, undefined, { slivers }),
    );
    return [{ reference, slots, least, candidate: use && !named.has(id) }];
  });
}

interface Given {
  readonly centre?: Vec2 | undefined;
  readonly angle?: number | undefined;
  readonly outline?: Slot['outline'];
  readonly range?: SizeRange | undefined;
  readonly slivers: boolean;
}

function slotOf(
  design: Design,
  patch: Patch,
  reference: Reference,
  index: number | undefined,
  given: Given,
): Slot {
  const { id, focus, order, bias } = patch;
  const centre = given.centre ?? middleOf(design);
  const away = fringeDistance(design, reference, focus, centre);
  return {
    id,
    reference,
    focus,
    order,
    bias,
    centre: given.centre,
    angle: given.angle,
    outline: given.outline,
    forms: formsOf(
      design,
      reference,
      focus,
      away,
      slantOf(centre, reference.at),
      given.range,
      bias,
      given.slivers,
    ),
    index,
  };
}

const middleOf = ({ beam }: Design): Vec2 => beam.centre;

function addedPatch(id: string, reference: string, { focus, bias }: PlannedPatches<unknown>): Patch {
  return {
    id,
    reference,
    focus,
    centre: [0, 0],
    outline: { shape: 'circle', centre: [0, 0], radius: 1 },
    lineAngle: undefined,
    order: 1,
    bias,
  };
}
