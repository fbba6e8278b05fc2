/** Freeform surfaces under test on a paraboloid: by their words, by their height as printed, and on the bench. mm. */
import { type Height, isoAsphere } from '../../independent/surface-sheets.ts';
import { zernike } from '../../independent/zernike.ts';
import { designFrom, type Words } from '../../metrology/support/design-from.ts';

export const FOCUS = [0, 0, -500] as const;
const ORIGIN = [3, -2, 2600] as const;
export const GLASS = { thickness: 9.5, index: 1.457 };
const base = isoAsphere(-2000, -1);

const more =
  (added: Height): Height =>
  (x, y) =>
    base(x, y) + added(x, y);

export const bump: Height = (x, y) => 2e-3 * Math.cos((2 * Math.PI * (x + 0.5 * y)) / 250) + 1e-9 * x * x * y;
/** Nodes 5 mm apart over a square of 300 mm; y downward, as maps are often written. In nm, so that units count. */
export const gridCsv = (height: Height, half = 150, unit = 'nm'): string =>
  [`x_mm,y_mm,z_${unit}`]
    .concat(
      Array.from({ length: (half / 2.5 + 1) ** 2 }, (_, k) => {
        const side = half / 2.5 + 1;
        const [x, y] = [5 * (k % side) - half, half - 5 * Math.floor(k / side)];
        return `${x},${y},${height(x, y) * (unit === 'nm' ? 1e6 : 1)}`;
      }),
    )
    .join('\n');

export interface FreeformCase {
  readonly what: string;
  readonly words: Words;
  readonly height: Height;
  readonly glass?: true;
}

export const CASES: readonly FreeformCase[] = [
  {
    what: 'powers of x and y, 1 µm of each',
    words: { xy: { '2,1': 1e-9, '0,3': -1e-9, '4, 0': 1e-11, '1,5': 1e-15 } },
    height: more((x, y) => 1e-9 * x * x * y - 1e-9 * y ** 3 + 1e-11 * x ** 4 + 1e-15 * x * y ** 5),
  },
  {
    what: 'Zernike terms by index and by orders, glass after',
    words: {
      zernike: { radius: '150 mm', terms: { 5: '2 um', '3,-1': '-1 um', '4, 4': '300 nm', 12: '20 nm' } },
    },
    height: more(
      (x, y) =>
        2e-3 * zernike(2, 2, x / 150, y / 150) -
        1e-3 * zernike(3, -1, x / 150, y / 150) +
        3e-4 * zernike(4, 4, x / 150, y / 150) +
        2e-5 * zernike(4, 0, x / 150, y / 150),
    ),
    glass: true,
  },
  {
    what: 'a grid of heights',
    words: { grid: { file: 'sag.csv', spacing: '5 mm' } },
    height: more(bump),
  },
  {
    what: 'all of them, glass after',
    words: {
      xy: { '2,1': 1e-9 },
      zernike: { radius: 150, terms: { 9: '500 nm' } },
      grid: { file: 'sag.csv', spacing: 5 },
    },
    height: more((x, y) => bump(x, y) + 1e-9 * x * x * y + 5e-4 * zernike(3, 3, x / 150, y / 150)),
    glass: true,
  },
];

export const designOf = (words: Words, glass = false, csv = gridCsv(bump)) =>
  designFrom(
    {
      substrate: {
        outline: { circle: { diameter: 400 } },
        ...(glass ? { ...GLASS, patternFaces: 'interferometer' } : { thickness: 0 }),
      },
      part: {
        origin: ORIGIN,
        datums: {
          M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000, conic: -1, ...words } },
        },
      },
      test: { surface: 'M', aperture: { circle: { diameter: 200, centre: [30, -20] } } },
    },
    () => new TextEncoder().encode(csv),
  );

/** Of the aperture, its edge among them. */
export const places = Array.from({ length: 60 }, (_, k) => {
  const radius = 100 * Math.sqrt((k + 1) / 60);
  return [30 + radius * Math.cos(2.399963 * k), -20 + radius * Math.sin(2.399963 * k)] as const;
});

export const toSubstrate = ([x, y, z]: readonly [number, number, number]) =>
  [x + ORIGIN[0], y + ORIGIN[1], z + ORIGIN[2]] as const;
