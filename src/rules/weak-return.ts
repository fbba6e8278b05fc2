/**
 * Rule weak-return: four fifths of a patch's light come back to the camera, by a trace to the real ball or cube. The share that is
 * lost shortens the patch, and a reading gets as much worse as the patch gets shorter (it resolves rλs/2D). An ordinary 10 mm
 * patch with a roof, on an ordinary cube, returns 0.89 to 0.92 of it: the edges and the two slopes of the roof take the rest. Past
 * twice that loss the figures stated for a patch, which reckon with all of it, are a quarter too good. A bound in closed
 * form clears most patches; of the rest rays are counted.
 */
import type { DesignedPatch } from '../design/design.ts';
import { kindOf } from '../kinds/kinds.ts';
import { lossBound } from '../metrology/sensing/loss-bound.ts';
import { type ReturnedLight, returnedLight } from '../metrology/sensing/returned-light.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const LEAST_RETURNED = 0.8;
/** A share this far above the limit by the few rays is above it: more than what they tell it to. */
const CLEARLY = 0.02;

export const weakReturn = rule(
  {
    code: 'weak-return',
    severity: 'warning',
    scope: 'patch',
    meaning: 'Less than 80 % of a patch’s light returns, by a trace to the real ball or cube.',
    limit: '80 % of the light',
    remedy:
      'Turn or roll the retroreflector, shorten the patch, or use a larger reference; a ball needs a point focus, a cube a line focus.',
    planning: { by: 'moving' },
  },
  (design) => {
    const findings: Found[] = [];
    design.patches.forEach((patch, i) => {
      if ((lossBound(design, patch) ?? 1) <= 1 - LEAST_RETURNED - CLEARLY) return;
      const { id } = patch.reference;
      const light = returnedLight(design, patch);
      if (light === undefined || light.share >= LEAST_RETURNED) return;
      findings.push({
        where: patch.id,
        message:
          `${percent(light.share)} % of the light of patch ${patch.id} returns from ${id}: ` +
          `${lossWords(light, patch)}; the minimum is ${percent(LEAST_RETURNED)} %`,
        hint: kindOf(patch.reference).words.returned?.weak(patch.lineDirection !== undefined) ?? '',
        value: 100 * light.share,
        limit: 100 * LEAST_RETURNED,
        unit: '%',
        path: ['patches', i, 'id'],
      });
    });
    return findings;
  },
);

/** Causes, the largest first; what does not round to a per cent is not named unless it is all there is. */
function lossWords({ losses }: ReturnedLight, patch: DesignedPatch): string {
  const words: Record<keyof typeof losses, string> = {
    evanescent: 'is evanescent',
    missed: `misses ${kindOf(patch.reference).words.returned?.missed}`,
    'outside aperture': 'falls outside the clear aperture of the cube',
    'dead zone': 'is lost at the cube’s edges and apex',
    'beside patch': 'returns beside the patch',
  };
  const causes = Object.entries(losses) as [keyof typeof losses, number][];
  return causes
    .filter(([, share]) => share > 0)
    .sort((a, b) => b[1] - a[1])
    .map(([cause, share]) => `${percent(share)} % ${words[cause]}`)
    .join(', ');
}

const percent = (share: number): string => trimmed(100 * share, 1);
