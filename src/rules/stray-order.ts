/**
 * Rule stray-order: no light that comes home by another way than the designed one makes false fringes on a patch that could be
 * taken for its own, or pull them from their place.
 *
 * A false wave of intensity ρ against the wanted one shifts the phase that is read by up to asin(√ρ)/2π fringes. It is let pass
 * while that is no more than half of what a reading resolves (`interferometer.readable`), and while it covers so little of the
 * patch that a reading, made over all of it, passes it over. The limit is said as the visibility of the false fringes, 2√ρ/(1 + ρ).
 */
import type { Design } from '../design/design.ts';
import { type StrayReturn, strayReturns } from '../metrology/stray/stray-light.ts';
import { fringeVisibility } from '../optics/efficiency.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

/** Of a patch's area: a twentieth moves a reading over the whole by less than a twentieth of the shift there. */
const LEAST_SHARE = 0.05;
/** Of a reading: the part of it that false fringes may take up. */
const SHARE_OF_READING = 0.5;

export const strayOrder = rule(
  {
    code: 'stray-order',
    severity: 'error',
    scope: 'design',
    meaning:
      'Stray light of another order, another patch or the main pattern returns through a patch and makes false fringes.',
    limit: 'the visibility of false fringes that shifts a reading by half of `interferometer.readable`',
    remedy: 'Move the patch or the reference out of the stray light’s path, or change the order.',
    planning: { by: 'moving', helps: 'references off the paths of other orders' },
  },
  (design) => {
    const { readable } = design.scenario.interferometer;
    const limit = mostVisibility(readable);
    return strayReturns(design, LEAST_SHARE * mostBrightness(readable))
      .filter(({ share, brightness }) => share >= LEAST_SHARE && brightness >= LEAST_BRIGHTNESS)
      .flatMap((stray) => judge(design, stray, limit));
  },
);

/** Visibility of false fringes that shift the phase by half a reading. A brighter false wave is never better, whatever its visibility. */
export const mostVisibility = (readable: number): number => fringeVisibility(1, mostBrightness(readable));

/** Intensity of a false wave against the wanted one that shifts the phase by half a reading. */
const mostBrightness = (readable: number): number =>
  Math.sin(2 * Math.PI * Math.min(SHARE_OF_READING * readable, QUARTER_FRINGE)) ** 2;

/** The false wave cannot shift the phase by more than this while it is the fainter one, fringes. */
const QUARTER_FRINGE = 0.25;
/** Fainter ones are not asked for their visibility. */
const LEAST_BRIGHTNESS = 1e-9;
/** Times the wanted return: past this the figure says no more. */
const BRIGHTEST_TOLD = 1000;

function judge(design: Design, stray: StrayReturn, limit: number): Found[] {
  const { source, orderOut, reference, patch, orderBack, share, brightness } = stray;
  const visibility = fringeVisibility(1, Math.min(1, brightness));
  if (visibility <= limit) return [];
  // An order that a duty cycle of half suppresses leaves no wanted return to compare with.
  const times = brightness > BRIGHTEST_TOLD ? `more than ${BRIGHTEST_TOLD}` : trimmed(brightness, 2);
  const ofKeepOut = source.kind === 'keep-out';
  const from = {
    patch: `patch ${source.id}`,
    main: 'the main pattern',
    'keep-out': `the pattern in keep-out ${source.id}`,
  }[source.kind];
  const isOwn = !ofKeepOut && source.id === patch.id;
  const light = isOwn ? `its own order ${orderOut}` : `order ${orderOut} of ${from}`;
  return [
    {
      where: patch.id,
      message:
        `patch ${patch.id} has false fringes over ${trimmed(100 * share, 0)} % of its area: ${light} reaches ${reference} and ` +
        `returns through order ${orderBack}, ${times} times as bright as the wanted return; the visibility of the false ` +
        `fringes is ${trimmed(visibility, 2)}, the limit is ${trimmed(limit, 2)}`,
      hint: ofKeepOut
        ? 'move the reference out of the undiffracted beam, or block that light while you read the patch'
        : 'move the patch or the reference out of that path, or change the patch’s order',
      value: visibility,
      limit,
      path: ['patches', design.patches.indexOf(patch), 'id'],
    },
  ];
}
