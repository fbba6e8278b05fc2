/**
 * Rule not-observed: every degree of freedom of the part shows in some reading. A warning, since a part with rotational
 * symmetry needs no more; an error where `wanted` asks for that degree.
 */

import type { Design } from '../design/design.ts';
import { movesWithPart } from '../kinds/reference.ts';
import { readingsOf } from '../metrology/budget/readings.ts';
import { motionDegrees } from '../metrology/estimate/free-motion.ts';
import { freedomOf } from '../metrology/estimate/pose-estimate.ts';
import { fixesMotion, measuredOnPart, trackedJob } from '../metrology/job/carriers.ts';
import { isReadable } from '../metrology/sensing/readable-return.ts';
import { DEGREES, wishedDegrees } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { named, rule } from './rule.ts';

export const notObserved = rule(
  {
    code: 'not-observed',
    severity: 'warning',
    scope: 'design',
    meaning: 'No patch, touch or measurement constrains a degree of freedom of the part.',
    limit: 'all six degrees of freedom; an error for those in `wanted`',
    remedy: 'Add a patch that senses it, or a measurement.',
    planning: { by: 'growth' },
  },
  (design) => {
    const { wanted } = design.scenario;
    const pose = freedomOf(design);
    const mounts = readOnMounts(design);
    if (mounts.length > 0 && pose.free.observed.every((seen) => !seen)) return [onlyMounts(design, mounts)];
    const measured = measuredInSeats(design);
    if (measured !== undefined && pose.free.observed.every((seen) => !seen)) return [measured];
    const unread = design.patches.filter((patch) => !isReadable(design, patch)).map(({ id }) => id);
    return DEGREES.flatMap((degree, k): Found[] => {
      if (pose.free.observed[k]) return [];
      const isWanted = wanted[degree] !== undefined;
      const motions = pose.free.motions.filter((motion) => motionDegrees(motion, pose.size)[k]);
      return [
        {
          severity: isWanted ? 'error' : 'warning',
          where: isWanted ? `wanted.${degree}` : 'part',
          message:
            `${degree} of the part is not observed${isWanted ? ' but wanted' : ''}: ` +
            unconstrained(motions.map(({ words }) => words)),
          hint:
            (unread.length === 0
              ? ''
              : `too little light returns to ${unread.join(', ')}, whose readings do not count: mend that first, or `) +
            'add a measurement, or a patch that senses this motion on a reference that touches the part',
          path: isWanted ? ['wanted', degree] : ['part'],
        },
      ];
    });
  },
);

/** Ids of the references that are read but stand on mounts of their own. */
const readOnMounts = (design: Design): readonly string[] => [
  ...new Set(readingsOf(design).flatMap(({ reference }) => (movesWithPart(reference) ? [] : [reference.id]))),
];

/** One finding for all six degrees: they have one cause. */
function onlyMounts({ references, scenario }: Design, mounts: readonly string[]): Found {
  const asked = wishedDegrees(scenario.wanted);
  const [first] = asked;
  const onPart = references.filter(
    (reference) => reference.given === 'touches' || reference.movesWith === 'part',
  );
  const wish =
    first === undefined ? '' : `, but ${asked.join(', ')} ${asked.length === 1 ? 'is' : 'are'} wanted`;
  const [stands, their] = mounts.length === 1 ? ['stands', 'a mount of its'] : ['stand', 'mounts of their'];
  const found = {
    where: first === undefined ? 'part' : `wanted.${first}`,
    message: `no reading tells of the part${wish}: ${named(mounts)} ${stands} on ${their} own (\`frame: substrate\`)`,
    path: first === undefined ? ['part'] : ['wanted', first],
  };
  if (onPart.length > 0) {
    const hint = `a tracker finds the part from ${named(onPart.map(({ id }) => id))}, and \`transfer\` states how well`;
    return { ...found, severity: first === undefined ? 'note' : 'warning', hint };
  }
  const hint = 'give `touches` or `frame: part` for what the part carries';
  return { ...found, severity: first === undefined ? 'warning' : 'error', hint };
}

/** Where nothing is wanted of the part and a measuring machine places it by its references in the frame of the seats: one note. */
function measuredInSeats(design: Design): Found | undefined {
  if (wishedDegrees(design.scenario.wanted).length > 0) return undefined;
  const tracked = trackedJob(design);
  const measured = measuredOnPart(design, tracked);
  if (tracked !== undefined || !fixesMotion(measured)) return undefined;
  return {
    severity: 'note',
    where: 'part',
    message: 'no reading tells of the part',
    hint: `a measuring machine finds the part from ${named(measured.map(({ id }) => id))}, in the frame of the seats`,
    path: ['part'],
  };
}

/** From `to turn about …` and `to move along …`: what nothing constrains, and what the part is therefore free to do. */
function unconstrained(motions: readonly string[]): string {
  const nouns = motions.map((words) => words.replace(/^to turn/, 'rotation').replace(/^to move/, 'motion'));
  const verbs = new Set(motions.map((words) => words.split(' ', 2).join(' ')));
  return `nothing constrains ${nouns.join(', or ')}; the part is free ${[...verbs].join(' and ')}`;
}
