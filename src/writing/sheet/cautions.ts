/**
 * The cautions of the bench, which come before the work. Classes of lasers are those of IEC 60825-1; this page names none that it does not
 * know, and puts local rules first.
 */
import type { Design } from '../../design/design.ts';
import { type LaserClass, laserClass, STRICTER_THAN_2014, VISIBLE } from '../../optics/laser-class.ts';
import { MW_PER_W, NM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { significant } from './figures.ts';
import { type Html, html } from './html.ts';

export function cautions({ light: { wavelength }, scenario }: Design): Html {
  const seen = wavelength >= VISIBLE.from && wavelength <= VISIBLE.to;
  const nanometres = trimmed(wavelength * NM_PER_MM, 1);
  return html`<div class="caution">
<ul>
<li>Local rules and the laser safety officer come first; this sheet replaces neither.</li>
<li>${classWords(scenario.interferometer.laserPower, wavelength)}
A hologram gathers light into points and lines, where the hazard can be greater than in the open beam.</li>
<li>Never look into the beam, into a focus, or along a line of light, and not through an instrument either. Take off rings and watches; keep reflections
from balls and retroreflectors on the bench, below the height of the eyes.</li>
${
  seen
    ? ''
    : html`<li><strong>The light at ${nanometres} nm is invisible.</strong> Find it with a viewing card or a camera, and wear the eye protection that the officer names;
that you see nothing does not mean that there is nothing.</li>\n`
}<li>The hologram is bare glass with a pattern that a touch spoils: hold it by its edge, in clean gloves, and never wipe the patterned side. Glass chips at its
edges and cuts; set it down on a soft surface only.</li>
</ul>
</div>`;
}

function classWords(power: number | undefined, wavelength: number): string {
  const label =
    'The class of the laser by IEC 60825-1 stands on its label, which governs: read it before you start.';
  if (power === undefined) return `${label} The scenario gives no power, so this sheet states no class.`;
  const milliwatts = significant(power * MW_PER_W);
  const named = laserClass(power, wavelength);
  if (named === undefined)
    return `${label} For ${milliwatts} mW at this wavelength this sheet knows no limits.`;
  const stricter =
    wavelength >= STRICTER_THAN_2014.from && wavelength <= STRICTER_THAN_2014.to
      ? ' At this wavelength that is by the limits of IEC 60825-1:2007; those of 2014 are less strict, and the label may name a lower class.'
      : '';
  return `${label} By its power of ${milliwatts} mW alone, a continuous beam is of class ${named}: ${HAZARDS[named]}${stricter}`;
}

/** What each class means for eyes, in a line. */
const HAZARDS: Record<LaserClass, string> = {
  1: 'safe by itself, but not when gathered by optics into the eye.',
  2: 'the eye closes in time if nothing keeps it open; do not stare.',
  '3R': 'looking into it can hurt.',
  '3B': 'looking into it or into a mirror-like reflection hurts before the eye can close; wear the eye protection that the officer names.',
  4: 'even its scattered light can hurt eyes and skin, and it can burn; no work without the officer.',
};
