/**
 * `bench.html`: the page with which the operator works at the interferometer. It opens from a disk in a browser, fetches nothing, and
 * computes there what `steer` computes, with the same code. The build makes it all but the design, which is put in here as data.
 */
import type { Design } from '../../design/design.ts';
import { visibleText } from '../../finding/visible-text.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { scenarioData } from '../../scenario/scenario-data.ts';
import { jsonText } from '../json.ts';
import { escapedMarkup } from '../page/html.ts';
import type { Provenance } from '../provenance.ts';
import { cautions } from '../sheet/cautions.ts';

/** What the template holds in place of the design; each once. */
const PLACES = { title: '<!--title-->', cautions: '<!--cautions-->', job: '<!--job-->' } as const;

/** `template` is the page as it is built; `orientation` what is known of the camera before the operator says more. */
export function benchPage(
  design: Design,
  head: Provenance,
  template: string,
  orientation: CameraOrientation,
): string {
  const title = `${design.scenario.title || 'Reference patches'}: bench`;
  const job = {
    version: head.version,
    draft: head.draft,
    scenario: { sha256: head.scenarioHash, files: Object.fromEntries(head.named ?? []) },
    orientation: { ...orientation },
  };
  // All of it ASCII, as the template is: a page of half a megabyte is then put together and hashed at little cost.
  return [
    [PLACES.title, markupInAscii(escapedMarkup(visibleText(title)))],
    [PLACES.cautions, markupInAscii(cautions(design).text)],
    [
      PLACES.job,
      `${dataElement('job', jsonText(job).trim())}\n${dataElement('scenario', scenarioData(design.scenario))}`,
    ],
  ].reduce((page, [place, text]) => putInto(page, place!, text!), template);
}

function putInto(page: string, place: string, text: string): string {
  const at = page.indexOf(place);
  if (at < 0) throw new Error(`the template of the bench page has no ${place}`);
  return page.slice(0, at) + text + page.slice(at + place.length);
}

/** JSON that no browser takes for markup or for a program: an element of data ends at the first `<` of its end tag. */
const dataElement = (id: string, json: string): string =>
  `<script type="application/json" id="${id}">${json.replace(/[<>&]|[^ -~\n]/g, unitEscape)}</script>`;

const unitEscape = (unit: string): string => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;

const markupInAscii = (text: string): string =>
  text.replace(/[^ -~\n\t]/gu, (letter) => `&#x${letter.codePointAt(0)!.toString(16)};`);
