/** One view of one window of the bench: its shapes, with the names placed. mm on paper, [right, up], the substrate frame's origin at [0, 0]. */
import type { Design } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { around, boxesMeet, grown } from '../drawing/boxes.ts';
import type { Box } from '../drawing/drawing.ts';
import { type PlacedName, placedNames, roomOf } from './name-placing.ts';
import { type Drawn, rectangle, upperEnd } from './names.ts';
import { drawnDatums, drawnPartFrame, drawnReference, drawnThing } from './panel-bodies.ts';
import { drawnBeam, drawnPatch, type Scene } from './panel-light.ts';
import { drawnNull } from './panel-null.ts';
import type { Projection } from './projection.ts';
import { boundsOfShape, type Shape } from './shapes.ts';
import { commonKind, kindAndSize, type NamedIn, shortName, standsInSpace } from './things.ts';
import type { Window, WindowPair } from './windows.ts';

export interface Panel {
  readonly view: Projection;
  readonly scale: number;
  readonly box: Box;
  readonly shapes: readonly Shape[];
  readonly captions: readonly PlacedName[];
}

/** Room for names beside, and above and below, what is shown, mm. */
const MARGIN: Vec2 = [4, 8];
/** More of it where the light ends, on the overview. */
const FOR_NAMES = 20;
/** Clear space around what the panel grows for, mm. */
const CLEAR = 1;
/** With more references than this, names are their numbers. */
export const MOST_NAMED = 12;

/** Whether patches have their numbers: of more of them the numbers would cover each other. */
export const isNumbered = ({ patches }: Design): boolean => patches.length <= MOST_NUMBERED;
const MOST_NUMBERED = 16;

interface PanelContext {
  readonly design: Design;
  readonly pair: WindowPair;
  /** What is named here. */
  readonly names: ReadonlySet<NamedIn>;
  /** Name of the beam's focus; undefined where it does not show. */
  readonly focus: string | undefined;
  /** z from which the beam's light is drawn, mm of the bench. */
  readonly lightFrom: number;
  /** Windows of details, with their letters. */
  readonly details: readonly { readonly letter: string; readonly box: Box }[];
}

export function panelOf({ view, things, box: shown }: Window, context: PanelContext): Panel {
  const { design, pair, names } = context;
  const { scale } = pair;
  const onPaper = ({ left, right, bottom, top }: Box): Box => ({
    ...{ left: left / scale, right: right / scale },
    ...{ bottom: bottom / scale, top: top / scale },
  });
  const inner = grown(onPaper(shown), ...MARGIN);
  const wide = pair.purpose === 'overview' ? { ...inner, right: inner.right + FOR_NAMES } : inner;
  const scene: Scene = {
    ...{ design, view, scale, shown: wide },
    from: Math.min(wide.left * scale, context.lightFrom),
    to: shown.right,
  };
  const signs = [drawnDatums(scene, names.has('references')), drawnPartFrame(scene, names.has('references'))];
  const box = withSigns(wide, signs);
  const bodies = things.map((thing) =>
    drawnThing(thing, scene, thing.style !== 'reference' && names.has(thing.namedIn)),
  );
  const numbered = design.references.length > MOST_NAMED;
  const saysKind = !numbered && commonKind(design) === undefined;
  const drawn: readonly Drawn[] = [
    { shapes: [{ style: 'axis', open: [[box.left, 0], [box.right, 0]] }], named: [] }, // biome-ignore format: one line
    ...context.details.map(({ letter, box: inner }) => drawnDetail(letter, grown(onPaper(inner), 0.6))),
    drawnBeam(scene, context.focus),
    drawnNull(scene, pair.purpose === 'glass' && isNumbered(design)),
    ...design.patches.map((patch, k) =>
      drawnPatch(patch, k, scene, pair.purpose === 'glass' && isNumbered(design)),
    ),
    ...bodies,
    ...design.references.flatMap((reference, k) => {
      if (!standsInSpace(reference)) return [];
      const name = numbered ? String(k + 1) : shortName(reference.id);
      return [
        drawnReference(
          reference,
          scene,
          names.has('references') ? name : undefined,
          saysKind ? kindAndSize(reference) : undefined,
        ),
      ];
    }),
    ...signs,
  ];
  const shapes = drawn.flatMap((each) => each.shapes);
  const captions = placedNames(
    drawn.flatMap(({ named }) => named),
    shapes,
    box,
  );
  const rooms = captions.map(roomOf);
  return { view, scale, box: around([box, ...rooms.map((room) => grown(room, CLEAR))]), shapes, captions };
}

/** The panel's box with all of the arrows that begin in it. */
function withSigns(box: Box, signs: readonly Drawn[]): Box {
  const arrows = signs
    .flatMap(({ shapes }) => shapes)
    .filter(({ style }) => style === 'mark' || style === 'frame')
    .map(boundsOfShape);
  return around([box, ...arrows.filter((each) => boxesMeet(box, each)).map((each) => grown(each, CLEAR))]);
}

function drawnDetail(letter: string, box: Box): Drawn {
  const at: Vec2 = [(box.left + box.right) / 2, box.top];
  return {
    shapes: [{ style: 'detail', closed: rectangle(box), id: `detail ${letter}` }],
    named: [{ text: `detail ${letter}`, sort: 'detail', at, polygon: upperEnd(rectangle(box)) }],
  };
}
