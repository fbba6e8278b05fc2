/** What can be moved at the bench, and from the knobs' settings to displacements. um, urad and turns on the knobs; mm and radians within. */
import type { Design } from '../design/design.ts';
import { add, scale, type Vec3 } from '../geometry/vector.ts';
import { isReadBy } from '../kinds/kinds.ts';
import { movesWithPart } from '../kinds/reference.ts';
import type { Displacements } from '../metrology/camera/fringe-picture-displacements.ts';
import { motionOfTurn } from '../metrology/steering/stage.ts';
import { MM_PER_UM, URAD_PER_RAD } from '../quantity/conversion.ts';
import { DEGREES } from '../scenario/scenario.ts';

export interface Knob {
  /** Such as `part x`. */
  readonly id: string;
  readonly words: string;
  readonly unit: 'µm' | 'µrad' | 'turns';
}

interface KnobGroup {
  readonly title: string;
  readonly knobs: readonly Knob[];
}

/** By the knob's id; what is not set is 0. */
type Settings = ReadonlyMap<string, number>;

export function knobGroups({ references, scenario: { stage } }: Design): readonly KnobGroup[] {
  const six = (of: string): readonly Knob[] =>
    DEGREES.map((degree) => ({
      id: `${of} ${degree}`,
      words: degree,
      unit: degree.startsWith('r') ? 'µrad' : 'µm',
    }));
  const mounts = references.filter((reference) => !movesWithPart(reference) && isReadBy(reference, 'senses'));
  return [
    ...(stage.length === 0
      ? []
      : [
          {
            title: 'Screws of the stage',
            knobs: stage.map(({ id }): Knob => ({ id: `screw ${id}`, words: id, unit: 'turns' })),
          },
        ]),
    { title: 'Part, along its own axes', knobs: six('part') },
    { title: 'Hologram, against beam and references', knobs: six('hologram') },
    ...mounts.map(({ id }) => ({
      title: `${id}, on a mount of its own`,
      knobs: (['x', 'y', 'z'] as const).map(
        (axis): Knob => ({ id: `reference ${id} ${axis}`, words: axis, unit: 'µm' }),
      ),
    })),
  ];
}

export function displacementsOf(
  { references, scenario: { stage } }: Design,
  settings: Settings,
): Displacements {
  const at = (id: string): number => settings.get(id) ?? 0;
  const three = (of: string, axes: readonly string[], factor: number): Vec3 => {
    const [x, y, z] = axes.map((axis) => at(`${of} ${axis}`) * factor);
    return [x!, y!, z!];
  };
  const six = (of: string) => ({
    translation: three(of, ['x', 'y', 'z'], MM_PER_UM),
    rotation: three(of, ['rx', 'ry', 'rz'], 1 / URAD_PER_RAD),
  });
  let part = six('part');
  for (const axis of stage) {
    const turn = motionOfTurn(axis);
    const turns = at(`screw ${axis.id}`);
    part = {
      translation: add(part.translation, scale(turn.translation, turns)),
      rotation: add(part.rotation, scale(turn.rotation, turns)),
    };
  }
  const own = references.map(({ id }) => [id, three(`reference ${id}`, ['x', 'y', 'z'], MM_PER_UM)] as const);
  return { part, hologram: six('hologram'), references: new Map(own) };
}
