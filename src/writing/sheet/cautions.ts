/**
 * The cautions of the bench, which come before the work. Classes of lasers are those of IEC 60825-1; this page states none that it does
 * not know, and defers to local rules.
 */
import type { Design } from '../../design/design.ts';
import { type LaserClass, laserClass, STRICTER_THAN_2014, VISIBLE } from '../../optics/laser-class.ts';
import { MW_PER_W, NM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { significant } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';

export function cautions({ light: { wavelength }, scenario }: Design): Html {
  return html`<div class="caution">
<ul>
<li>Local rules and the laser safety officer take precedence; this sheet replaces neither.</li>
<li>${classWords(scenario.interferometer.laserPower, wavelength)}
A hologram focuses light to points and lines, where the hazard can be greater than in the open beam.</li>
<li>Never look into the beam, into a focus or along a line focus, neither with the naked eye nor through an instrument. Take off rings and watches; keep
reflections from balls and retroreflectors on the bench, below eye level.</li>
${unseenLight(wavelength)}<li>The hologram is bare glass, and touching the pattern damages it: hold it by its edge, in clean gloves, and never wipe the patterned side. Glass edges
chip and cut; set it down only on a soft surface.
Put broken glass in the container for it, never pick it up with bare fingers.</li>
<li>Lift heavy parts and fixtures with a second person or a hoist, as the local rules say, keep hands from beneath and between them, and secure each one before you let go of it.</li>
<li>Adhesives, solvents and cleaners: follow their safety data sheets; gloves, ventilation, no flames. Shield eyes and skin from lamps that cure adhesives (risk group by
IEC 62471), and the hologram from drops. Load nothing that is glued before the adhesive has cured.</li>
</ul>
</div>`;
}

/** Of light beyond the visible, by what it does to the eye and what makes it seen; common practice, ranges as in IEC 60825-1 and IEC 62471. */
function unseenLight(wavelength: number): Html | string {
  if (wavelength >= VISIBLE.from && wavelength <= VISIBLE.to) return '';
  const nanometres = trimmed(wavelength * NM_PER_MM, 1);
  return html`<li><strong>The light at ${nanometres} nm is invisible${wavelength < VISIBLE.from ? ' (ultraviolet)' : ' (infrared)'}.</strong> ${hazardOf(wavelength)}
Never search for it by eye, not even for a faint glow: that glow does not show how strong the beam is. Seeing no light does not mean that there is none. Wear the eye protection that
the officer specifies for this wavelength, and block the beam before you reach into it.</li>
`;
}

/** mm: from here on the eye's front absorbs the light before it reaches the retina. */
const RETINA_ENDS = 1400e-6;

function hazardOf(wavelength: number): string {
  if (wavelength < VISIBLE.from)
    return 'It injures eyes and skin and its effect adds up over the day: cover both. Locate it with a fluorescent viewing card or a camera made for this wavelength.';
  if (wavelength <= RETINA_ENDS)
    return 'It reaches the retina, and no blink reflex protects the eye. Locate it with an infrared viewing card or a camera made for this wavelength.';
  return 'It injures the front of the eye, and the skin if strong. Locate it with a thermal or phosphor card or a camera made for this wavelength.';
}

function classWords(power: number | undefined, wavelength: number): string {
  const label =
    'The label of the laser states its class to IEC 60825-1 and takes precedence: read it before you start.';
  if (power === undefined)
    return `${label} The scenario states no laser power, so this sheet states no class.`;
  const milliwatts = significant(power * MW_PER_W);
  const named = laserClass(power, wavelength);
  if (named === undefined)
    return `${label} This sheet has no limits for ${milliwatts} mW at this wavelength and states no class.`;
  const stricter =
    wavelength >= STRICTER_THAN_2014.from && wavelength <= STRICTER_THAN_2014.to
      ? ' At this wavelength the class follows the limits of IEC 60825-1:2007; those of 2014 are less strict, so the label may state a lower class.'
      : '';
  return `${label} By its power of ${milliwatts} mW alone, a continuous beam is of class ${named}: ${HAZARDS[named]}${stricter}`;
}

/** What each class means for eyes, in a line. */
const HAZARDS: Record<LaserClass, string> = {
  1: 'safe by itself, but not when optics collect it into the eye.',
  2: 'the blink reflex protects the eye only if nothing keeps it open; do not stare into the beam.',
  '3R': 'looking into the beam can injure the eye.',
  '3B': 'the beam or a mirror-like reflection injures the eye before it can blink; wear the eye protection that the officer specifies.',
  4: 'even its scattered light can injure eyes and skin, and the beam can burn; no work without the officer.',
};
