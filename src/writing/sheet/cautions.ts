/**
 * The cautions of the bench, which come before the work. Classes of lasers are those of IEC 60825-1; this page names none that it does not
 * know, and puts local rules first.
 */
import type { Design } from '../../design/design.ts';
import { trimmed } from '../../quantity/format.ts';
import { type Html, html } from './html.ts';

/** Eyes answer hardly at all beyond these wavelengths, mm: IEC 60825-1 counts 400 nm to 700 nm as visible. */
const VISIBLE = { from: 400e-6, to: 700e-6 } as const;
const NM_PER_MM = 1e6;

export function cautions({ light: { wavelength } }: Design): Html {
  const seen = wavelength >= VISIBLE.from && wavelength <= VISIBLE.to;
  const nanometres = trimmed(wavelength * NM_PER_MM, 1);
  return html`<div class="caution">
<ul>
<li>Local rules and the laser safety officer come first; this sheet replaces neither.</li>
<li>The class of the laser by IEC 60825-1 stands on its label: read it before you start. The scenario gives no power, so this sheet states no class.
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
