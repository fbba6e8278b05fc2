/**
 * The camera's two limits: 20 pixels across a patch where it is narrowest (common practice, no source), and less than half a fringe
 * a pixel (the sampling theorem). A pixel sees the lit width over `pixelsAcrossBeam`, mm on the pattern.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

/** 200 pixels on 100 mm: half a millimetre each. */
const PIXEL = 0.5;
const WIDE = { interferometer: { collimated: true, beamDiameter: 100, pixelsAcrossBeam: 200 } };
const BALL = { id: 'r', kind: 'ball', diameter: 25, at: [0, 0, 60] };

const scene = (outline: Words, more: Words = {}, own: Words = {}): Words => ({
  ...WIDE,
  references: [BALL],
  patches: [{ id: 'p', reference: 'r', focus: 'point', centre: [0, 0], outline, ...own }],
  ...more,
});
const circle = (diameter: number): Words => ({ circle: { diameter } });

const PIXELS = table(
  '20 pixels across a patch',
  { rule: RULE.camera, severity: 'warning', limit: 20, unit: 'pixels' },
  () => {
    const said = (pixels: number) => [{ where: 'p', value: pixels }];
    const least = 20 * PIXEL;
    const spherical = { interferometer: { focus: [0, 0, -500], fNumber: 4, pixelsAcrossBeam: 1000 } };
    // An isosceles triangle of base 30 and height h is narrowest along its height for h below 30·√3/2.
    const triangle = (height: number): Words => ({
      polygon: {
        points: [
          [-15, 0],
          [15, 0],
          [0, height],
        ],
      },
    });
    return [
      ['a round patch of 20.002 pixels', scene(circle(least + 0.001)), []],
      ['of 20 pixels', scene(circle(least)), []],
      ['of 19.998 pixels', scene(circle(least - 0.001)), said(19.998)],
      ['a long rectangle is counted across', scene({ rectangle: { width: 40, height: least } }), []],
      ['a long one too narrow', scene({ rectangle: { width: 40, height: 9 } }), said(18)],
      [
        'a short one too narrow, turned',
        scene({ rectangle: { width: 9, height: 40, rotation: 30 } }),
        said(18),
      ],
      ['a ring is counted across its wall', scene({ ring: { inner: 30, outer: 50 } }), []],
      ['a ring whose wall is too thin', scene({ ring: { inner: 31, outer: 50 } }), said(19)],
      ['a triangle is counted along its least height', scene(triangle(least)), []],
      ['a triangle that is too low', scene(triangle(9.5)), said(19)],
      // 2 · 500/(2 · 4) = 125 mm of light over 1000 pixels: 0.125 mm each.
      ['2.5 mm in a spherical beam', scene(circle(2.5), spherical), []],
      ['2.49 mm in a spherical beam', scene(circle(2.49), spherical), said(19.92)],
      [
        'a beam without an edge is taken as wide as the substrate: 180 mm over 200 pixels',
        scene(circle(17.1), {
          interferometer: { collimated: true, pixelsAcrossBeam: 200 },
          substrate: { outline: { rectangle: { width: 60, height: 180 } } },
        }),
        said(19),
      ],
      [
        'a patch that breaks both limits is told of both',
        scene(circle(9), {}, { bias: { shape: 'tilt', fringes: 18, direction: 0 } }),
        [...said(18), { where: 'p', value: 1, limit: 0.5, unit: 'fringes/pixel' }],
      ],
    ];
  },
);

const FRINGES = table(
  'half a fringe a pixel',
  { rule: RULE.camera, severity: 'warning', limit: 0.5, unit: 'fringes/pixel' },
  () => {
    const biased = (shape: string, fringes: number, direction = 0): Words => ({
      bias: { shape, fringes, direction },
    });
    const tilt = (fringes: number, outline = circle(20), direction = 0): Words =>
      scene(outline, {}, biased('tilt', fringes, direction));
    const said = (fringes: number) => [{ where: 'p', value: fringes }];
    // Seen under 53° along its line: the roof runs from the ridge to the edge within 10 mm of the pattern all the same.
    const slanted = (fringes: number): Words => ({
      ...WIDE,
      references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [800, 0, 600] }],
      patches: [
        {
          id: 'p',
          reference: 'r',
          focus: 'line',
          lineAngle: 0,
          centre: [0, 0],
          outline: { rectangle: { width: 20, height: 20 } },
          bias: { shape: 'roof', fringes },
        },
      ],
    });
    const narrow = { rectangle: { width: 20, height: 12 } };
    return [
      ['19.99 fringes over 40 pixels', tilt(19.99), []],
      ['20 fringes over 40 pixels: half a fringe is too much', tilt(20), said(0.5)],
      ['20.01 fringes over 40 pixels', tilt(20.01), said(0.50025)],
      ['12.06 fringes over 24 pixels, along the narrow side', tilt(12.06, narrow, 90), said(0.5025)],
      ['12 fringes along the long side', tilt(12, narrow, 0), []],
      [
        'a roof of 9.99 fringes over the 20 pixels of a half',
        scene(circle(20), {}, biased('roof', 9.99)),
        [],
      ],
      ['a roof of 10 fringes over them', scene(circle(20), {}, biased('roof', 10)), said(0.5)],
      ['a roof of 9.99 fringes on an inclined line', slanted(9.99), []],
      ['a roof of 10.01 fringes on an inclined line', slanted(10.01), said(0.5005)],
      ['no bias at all', scene(circle(20)), []],
    ];
  },
);

export const CAMERA: readonly Table[] = [PIXELS, FRINGES];
