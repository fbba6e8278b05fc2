/** Of `fringes`, `--at`: what is displaced, all together and one by one. */
import type { Design } from '../../design/design.ts';
import { errorFinding } from '../../finding/finding.ts';
import type { Displacements, RigidMotion } from '../../metrology/camera/fringe-picture-displacements.ts';
import { type ReadDisplacement, readDisplacements } from '../../reading/bench/read-displacements.ts';
import type { Fault } from '../say.ts';

interface GivenDisplacements {
  /** All of them as one displacement; undefined for none, and where several say where one thing is. */
  readonly at?: Displacements;
  /** Each by itself. */
  readonly each: readonly Displacements[];
  readonly faults: Fault[];
}

/** `apart`: each has a frame of its own, so that several may name one thing; otherwise that is an error. */
export function displacementsOf(
  design: Design,
  texts: readonly string[],
  apart: boolean,
): GivenDisplacements {
  const faults: Fault[] = [];
  const all: ReadDisplacement[] = [];
  const each: Displacements[] = [];
  let together = texts.length > 0;
  for (const text of texts) {
    const { displacements, findings } = readDisplacements(text, '--at', design.scenario);
    if (findings.length > 0) faults.push({ findings, text });
    for (const displacement of displacements) {
      if (all.some(({ name }) => name === displacement.name)) {
        together = false;
        const message = `${displacement.name} is displaced twice`;
        const hint = 'give one displacement for it; with --camera each --at has a frame of its own';
        if (!apart) faults.push({ findings: [errorFinding('duplicate-id', '--at', message, hint)] });
      }
    }
    all.push(...displacements);
    each.push(oneOf(design, displacements));
  }
  return { ...(together ? { at: oneOf(design, all) } : {}), each, faults };
}

function oneOf(design: Design, all: readonly ReadDisplacement[]): Displacements {
  const ids = design.references.map(({ id }) => id);
  const bodyOf = (name: string): RigidMotion | undefined =>
    ids.includes(name) ? undefined : all.find((displacement) => displacement.name === name);
  const [part, hologram] = [bodyOf('part'), bodyOf('hologram')];
  return {
    references: new Map(
      all.filter(({ name }) => ids.includes(name)).map(({ name, translation }) => [name, translation]),
    ),
    ...(part === undefined ? {} : { part }),
    ...(hologram === undefined ? {} : { hologram }),
  };
}
