/**
 * What a scenario's words come to, as a scene of plain numbers: from the Design, for files that tests do not write themselves. Of the program
 * are the places of the references, wavelength and index; what follows from them is the scene's own.
 */
import type { Design } from '../../../src/design/design.ts';
import type { Outline } from '../../../src/geometry/outline.ts';
import type { Datum } from '../../../src/scenario/datum.ts';
import type { DatumWords, OutlineWords, PatchWords, Point, Scene } from '../../independent/scene.ts';

const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** Throws for an outline or a datum that a scene has no words for. */
export function sceneOfDesign({ scenario, light, glass, references, patches }: Design): Scene {
  const { interferometer, substrate, part } = scenario;
  const { beam } = interferometer;
  const inUse = new Set(references.flatMap((one) => (one.kind === 'datum' ? [one.datum] : [])));
  return {
    light: { wavelength: light.wavelength },
    interferometer:
      beam.kind === 'collimated' ? { collimated: true, direction: beam.direction } : { focus: beam.focus },
    substrate: {
      outline: outlineWords(substrate.outline, [0, 0]),
      thickness: glass.thickness,
      index: glass.index,
      patternFaces: substrate.patternFaces,
    },
    part: {
      origin: part.frame.origin,
      rotation: [degrees(part.rotation[0]), degrees(part.rotation[1]), degrees(part.rotation[2])],
      datums: Object.fromEntries(
        part.datums.filter(({ id }) => inUse.has(id)).map((datum) => [datum.id, datumWords(datum)]),
      ),
    },
    references: references.map((one) => ({
      id: one.id,
      kind: one.kind,
      at: one.at,
      ...(one.kind === 'datum' ? { datum: one.datum } : {}),
    })),
    patches: patches.map(({ asked }): PatchWords => {
      const { id, reference, focus, centre, outline, lineAngle, order, bias } = asked;
      return {
        ...{ id, reference, focus, centre, order },
        outline: outlineWords(outline, centre),
        ...(lineAngle === undefined ? {} : { lineAngle: degrees(lineAngle) }),
        ...(bias === undefined
          ? {}
          : {
              bias: {
                shape: bias.shape,
                fringes: bias.fringes,
                ...(bias.direction === undefined ? {} : { direction: degrees(bias.direction) }),
              },
            }),
      };
    }),
  };
}

/** About `centre`, where round ones have to stand. */
export function outlineWords(outline: Outline, centre: Point): OutlineWords {
  if (outline.shape === 'polygon')
    return { polygon: { points: outline.points.map(([x, y]): Point => [x - centre[0], y - centre[1]]) } };
  if (Math.hypot(outline.centre[0] - centre[0], outline.centre[1] - centre[1]) > 1e-9)
    throw new Error(`an outline about ${outline.centre}, not ${centre}`);
  switch (outline.shape) {
    case 'circle':
      return { circle: { diameter: 2 * outline.radius } };
    case 'rectangle':
      return {
        rectangle: {
          width: outline.width,
          height: outline.height,
          rotation: degrees(outline.rotation),
        },
      };
    case 'ring':
      return { ring: { inner: 2 * outline.inner, outer: 2 * outline.outer } };
    case 'sector':
      return {
        sector: {
          inner: 2 * outline.inner,
          outer: 2 * outline.outer,
          from: degrees(outline.from),
          to: degrees(outline.to),
        },
      };
    default:
      throw new Error(`a scene has no words for the outline ${outline.shape}`);
  }
}

function datumWords(datum: Datum): DatumWords {
  if (datum.kind === 'plane') return { plane: { point: datum.point, normal: datum.normal } };
  if (datum.kind === 'sphere')
    return { sphere: { centre: datum.centre, diameter: datum.diameter, side: datum.side } };
  throw new Error(`a scene has no words here for the datum ${datum.id}, a ${datum.kind}`);
}
