/** One view of one window of the bench: its shapes, with the names placed. mm on paper, [right, up], the substrate frame's origin at [0, 0]. */
import type { Design } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { around, grown, holds } from '../drawing/boxes.ts';
import { captionBox, type PlacedCaption, placeCaptions } from '../drawing/captions/caption-placing.ts';
import type { Box } from '../drawing/drawing.ts';
import { roomFor } from '../drawing/lettering.ts';
import { type Drawn, rectangle, together } from './names.ts';
import { drawnDatums, drawnPartFrame, drawnReference, drawnThing } from './panel-bodies.ts';
import { drawnBeam, drawnPatch, type Scene } from './panel-light.ts';
import type { Projection } from './projection.ts';
import type { Shape } from './shapes.ts';
import { commonKind, kindAndSize, type NamedIn, shortName, standsInSpace } from './things.ts';
import type { Window, WindowPair } from './windows.ts';

export interface Panel {
  readonly view: Projection;
  readonly scale: number;
  readonly box: Box;
  readonly shapes: readonly Shape[];
  readonly captions: readonly PlacedCaption[];
}

/** Height of a name's capitals, mm. */
export const TEXT = 2.5;
/** Room for names beside, and above and below, what is shown, mm. */
const MARGIN: Vec2 = [4, 8];
/** More of it where the light ends, on the overview. */
const FOR_NAMES = 20;
/** With more light paths than this, names do not keep clear of them. */
const MOST_CLEARED = 30;
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
  const box = pair.purpose === 'overview' ? { ...inner, right: inner.right + FOR_NAMES } : inner;
  const scene: Scene = {
    design,
    view,
    scale,
    from: Math.min(box.left * scale, context.lightFrom),
    to: shown.right,
  };
  const bodies = things.map((thing) =>
    drawnThing(thing, scene, thing.style !== 'reference' && names.has(thing.namedIn)),
  );
  const numbered = design.references.length > MOST_NAMED;
  const saysKind = !numbered && commonKind(design) === undefined;
  const drawn: readonly Drawn[] = [
    { shapes: [{ style: 'axis', open: [[box.left, 0], [box.right, 0]] }], named: [], lines: [] }, // biome-ignore format: one line
    drawnBeam(scene, context.focus),
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
    drawnDatums(scene, names.has('references')),
    drawnPartFrame(scene, names.has('references')),
    ...context.details.map(({ letter, box: inner }) => drawnDetail(letter, grown(onPaper(inner), 0.6))),
  ];
  const shapes = drawn.flatMap((each) => each.shapes);
  const captions = placed(drawn, shapes, box);
  const rooms = captions.map(roomOf);
  return { view, scale, box: around([box, ...rooms.map((room) => grown(room, 1))]), shapes, captions };
}

const roomOf = ({ text, at, height }: PlacedCaption): Box => captionBox(at, roomFor(text, height), height);

/**
 * Names clear of the light's paths and of the edges of glass and part. What finds no place there may stand across them: a white edge lets
 * it be read.
 */
function placed(drawn: readonly Drawn[], shapes: readonly Shape[], area: Box): readonly PlacedCaption[] {
  const wishes = together(
    drawn.flatMap(({ named }) => named),
    area,
  ).map(({ text, polygon }) => ({ text, short: text, patch: [polygon] }));
  const lines = drawn.flatMap((each) => each.lines);
  const edges = shapes.flatMap((shape) =>
    'closed' in shape && (shape.style === 'part' || shape.style === 'glass') ? [shape.closed] : [],
  );
  const isInside = (caption: PlacedCaption): boolean => holds(area, roomOf(caption));
  const first = placeCaptions(wishes, TEXT, {
    ...{ area, edges, boxes: [] },
    lines: lines.length > MOST_CLEARED ? [] : lines,
  });
  const kept = first.filter(isInside);
  const left = wishes.filter((_, k) => !isInside(first[k]!));
  if (left.length === 0) return first;
  const second = placeCaptions(left, TEXT, {
    area,
    edges: wishes.filter((_, k) => isInside(first[k]!)).flatMap(({ patch }) => patch),
    lines: kept.flatMap(({ leader }) => (leader === undefined ? [] : [leader])),
    boxes: kept.map(roomOf),
  });
  return [...kept, ...second];
}

function drawnDetail(letter: string, box: Box): Drawn {
  const edge = rectangle({ ...box, bottom: box.top - 0.1 });
  const at: Vec2 = [(box.left + box.right) / 2, box.top];
  return {
    shapes: [{ style: 'detail', closed: rectangle(box), id: `detail ${letter}` }],
    named: [{ text: `detail ${letter}`, sort: 'detail', at, polygon: edge }],
    lines: [],
  };
}
