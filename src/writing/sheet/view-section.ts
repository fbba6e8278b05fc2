/** The hologram as the camera shows it, and how to find at the bench which way the camera is turned. Directions are clock positions. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type CameraOrientation, isPlain } from '../../scenario/camera-orientation.ts';
import { clockDirection } from '../page/clock.ts';
import { places, significant } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import { axesWords, orientationWords } from '../page/orientation-words.ts';
import type { ReportedOrientation } from '../report/reported-orientation.ts';
import { operatorView, viewKey } from './operator-view.ts';
import { MOST_IN_DETAIL } from './patch-section.ts';

export function viewSection(
  design: Design,
  reported: ReportedOrientation,
  orientation: CameraOrientation,
): Html {
  const plain = isPlain(orientation);
  const caption = plain
    ? 'SEEN FROM THE INTERFEROMETER, looking along the light: mirrored relative to the layout drawing, x to the left and y up.'
    : `AS THE CAMERA SHOWS IT: ${orientationWords(orientation)}; ${axesWords(orientation)}.`;
  return html`<h2>Hologram ${plain ? 'seen from the interferometer' : 'as the camera shows it'}</h2>
<div class="whole">
<figure class="view">${operatorView(design, orientation)}<figcaption>${caption} Patches by number, seats by letter;${design.main === undefined ? '' : ' M: the main pattern, with the edge of the aperture’s light within;'}
dashed: keep-outs; dotted: edge of the beam.</figcaption></figure>
${viewKey(design)}
</div>
<h2>Which way the camera is turned</h2>
<p>${plain ? 'This sheet takes the camera’s picture to be as seen from the interferometer, neither turned nor mirrored.' : `This sheet takes the camera’s picture to be as stated: ${orientationWords(orientation)}.`}
Clock positions and the pictures hold for that orientation only. Check it before the first move: in another orientation, moves go the wrong way.</p>
${howToTell(design, reported, orientation)}
<p>If the camera is turned otherwise, turn or mirror its picture in the camera’s software, or write its orientation into a bench file,
<code>camera: {view: interferometer, turned: 90, mirrored: false}</code>, and make this sheet again with <code>datumlight make --bench FILE</code>.</p>
`;
}

function howToTell(
  design: Design,
  { alike, cover, trial, settledBy }: ReportedOrientation,
  orientation: CameraOrientation,
): Html {
  if (settledBy === 'outlines')
    return html`<p>The lit outlines differ in all eight orientations: compare the camera’s picture with the drawing above, patch by patch.</p>`;
  const covered = cover.map((id) => patchNamed(design, id));
  const steps: Html[] = covered.map(
    ([patch, number]) =>
      html`<li>Cover patch ${number} (${patch.id}) with a card at the hologram: in the picture, the light toward ${clockDirection(fromCentre(design, patch), orientation)} must go dark.</li>\n`,
  );
  if (trial !== null && settledBy !== 'card') {
    const [patch, number] = patchNamed(design, trial.patch);
    steps.push(
      html`<li>${settledBy === 'cover' ? 'Or make' : 'Make'} one trial move: displace the reference ${trial.reference} by ${significant(trial.move_um)} µm along ${places(trial.direction)}, in the substrate frame. Patch ${number} (${trial.patch}) must then show ${patch.bias === undefined ? html`one more fringe, perpendicular to the line from ${clockDirection(opposite(trial.direction), orientation)} to ${clockDirection([trial.direction[0], trial.direction[1]], orientation)}` : design.patches.length > MOST_IN_DETAIL ? 'one fringe more or one less' : 'the change that its section states for this move'}, and the patches of other references none.</li>\n`,
    );
  }
  if (settledBy === 'card')
    steps.push(
      html`<li>Move a card into the beam at the hologram from the +x side: the picture must go dark from ${clockDirection([1, 0], orientation)}. Then from the +y side: from ${clockDirection([0, 1], orientation)}.</li>\n`,
    );
  return html`<p>The lit outlines look the same in ${alike.length + 1} of the eight orientations${isPlain(orientation) ? ` (as drawn; ${alike.map(shortWords).join('; ')})` : ''}. The drawing alone does not show which one the camera has:</p>
<ul>
${steps}</ul>
`;
}

/** The patch and its number. */
function patchNamed({ patches }: Design, id: string): readonly [DesignedPatch, number] {
  const k = patches.findIndex((patch) => patch.id === id);
  return [patches[k]!, k + 1];
}

const fromCentre = ({ beam }: Design, { centre }: DesignedPatch): Vec2 => [
  centre[0] - beam.centre[0],
  centre[1] - beam.centre[1],
];
const opposite = ([x, y]: readonly number[]): Vec2 => [-x!, -y!];

/** Against the drawing: `turned 90°`. */
function shortWords({ turned, mirrored }: ReportedOrientation['alike'][number]): string {
  const words = [...(mirrored ? ['mirrored'] : []), ...(turned === 0 ? [] : [`turned ${turned}°`])];
  return words.join(' and ');
}
