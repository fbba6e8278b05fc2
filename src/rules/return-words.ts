/** How findings say how much of a patch's light returns, and what becomes of the rest. */
import type { DesignedPatch } from '../design/design.ts';
import { kindOf } from '../kinds/kinds.ts';
import type { ReturnedLight } from '../metrology/sensing/returned-light.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';

/** `index` is the patch's in the scenario, `least` the share that is asked; `so` is what a smaller one means. */
export function tooLittle(
  patch: DesignedPatch,
  index: number,
  light: ReturnedLight,
  least: number,
  so = '',
): Found {
  return {
    where: patch.id,
    message:
      `${percent(light.share)} % of the light of patch ${patch.id} returns from ${patch.reference.id}: ` +
      `${lossWords(light, patch)}; the minimum is ${percent(least)} %${so}`,
    hint: kindOf(patch.reference).words.returned?.weak(patch.lineDirection !== undefined) ?? '',
    value: 100 * light.share,
    limit: 100 * least,
    unit: '%',
    path: ['patches', index, 'id'],
  };
}

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
