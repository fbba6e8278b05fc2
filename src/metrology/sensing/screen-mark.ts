/**
 * The mark that a patch projects on its target screen: a spot or a line (two lines on one screen make a cross), its size by diffraction
 * at the screen held square to the light, and how bright it is. mm; brightness as a ratio, or W where the beam's power is given.
 *
 * Over the width D at the distance s a line is 2λs/D wide from zero to zero and as long as the patch is along it; a spot is that wide
 * along both widths of a rectangle, and 2.44λs/D across the dark ring of a round patch. A share η of the light on the patch, of area
 * A as the light sees it, goes to the mark (η: efficiency of the working order): the peak of a spot is ηA²/(λs)² times as bright as
 * the beam on the patch, that of a line ηD²/(λs). J. W. Goodman, *Introduction to Fourier Optics*, §4.4 and §5.2 (the peak by Parseval).
 */

import type { Design, DesignedPatch } from '../../design/design.ts';
import { efficiencyOf } from '../../design/grooves.ts';
import { areaOf } from '../../geometry/extent.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { airyDiameter, lineFocusWidth } from '../../optics/fresnel-number.ts';
import { widthAlong } from './sensitivity.ts';

interface ScreenMark {
  readonly shape: 'spot' | 'line';
  /** Zero to zero: of a line across it; of a spot along ê₁ and ê₂. */
  readonly widths: readonly number[];
  /** Of a line; undefined for a spot. */
  readonly length: number | undefined;
  /** Of the light on the patch that goes to the mark. */
  readonly efficiency: number;
  /** Peak irradiance against that of the beam on the patch. */
  readonly peak: number;
  /** Of the whole beam's light; undefined where the scenario bounds the beam nowhere. An even beam is taken. */
  readonly share: number | undefined;
  /** W; undefined where the scenario gives no power either. */
  readonly power: number | undefined;
}

/** Undefined for a patch whose light goes to no screen. */
export function screenMark(design: Design, patch: DesignedPatch): ScreenMark | undefined {
  if (!isReadBy(patch.reference, 'mark')) return undefined;
  const { interferometer } = design.scenario;
  const { wavelength } = design.light;
  const { distance, lineDirection, outline } = patch;
  const efficiency = efficiencyOf(design, patch.order);
  const seenArea = areaOf(outline) * Math.abs(patch.chiefRay[2]);
  const widths = (lineDirection === undefined ? patch.senses.slice(0, 2) : patch.senses).map((direction) =>
    widthAlong(patch, direction),
  );
  const { radius } = design.beam;
  const share =
    radius === undefined ? undefined : (efficiency * areaOf(outline)) / (Math.PI * radius * radius);
  const isRound = lineDirection === undefined && outline.shape === 'circle';
  const across = isRound ? airyDiameter : lineFocusWidth;
  return {
    shape: lineDirection === undefined ? 'spot' : 'line',
    widths: widths.map((width) => across(width, wavelength, distance)),
    length: lineDirection === undefined ? undefined : widthAlong(patch, lineDirection),
    efficiency,
    peak:
      lineDirection === undefined
        ? efficiency * (seenArea / (wavelength * distance)) ** 2
        : (efficiency * widths[0]! ** 2) / (wavelength * distance),
    share,
    power:
      share === undefined || interferometer.laserPower === undefined
        ? undefined
        : share * interferometer.laserPower,
  };
}
