/**
 * Scenarios for `plan` that a bench would never have: references in one place or cutting each other, in the glass, behind it or
 * kilometres away; a glass too small or all keep-out; wishes out of reach; candidates that patches and measurements name. mm.
 */
import fc from 'fast-check';

const often = <T>(usual: fc.Arbitrary<T>, ...rare: readonly T[]): fc.Arbitrary<T> =>
  fc.oneof({ weight: 16, arbitrary: usual }, { weight: 1, arbitrary: fc.constantFrom(...rare) });

const auto = fc.constantFrom('auto', undefined);
const kind = fc.constantFrom('ball', 'ball', 'smr', 'smr', 'return', 'screen');
/** Few places, so that references often share one, or nearly. */
const at = often<readonly number[]>(
  fc.constantFrom(
    [0, 84, 130],
    [-73, -42, 130],
    [73, -42, 130],
    [0, 200, 1200],
    [180, -90, 1210],
    [-180, -90, 1190],
  ),
  [0, 84, 131],
  [0, 0, 0],
  [0, 0, 3],
  [0, 0, -500],
  [0, 0, 40],
  [9000, 0, 130],
  [0, 0, 1e6],
  [1e-9, 0, 1e-9],
);

const reference = fc.record({
  kind,
  at,
  use: auto,
  patches: often<string | undefined>(fc.constant('auto'), undefined),
});
type Drawn = {
  readonly kind: string;
  readonly at: readonly number[];
  readonly use?: string | undefined;
  readonly patches?: string | undefined;
};

function referenceOf({ kind: word, at: place, use, patches }: Drawn, k: number): object {
  const own =
    word === 'return'
      ? {}
      : word === 'screen'
        ? { at: place }
        : { at: place, diameter: word === 'smr' ? '1.5 in' : '0.5 in' };
  return { id: `r${k}`, kind: word, ...own, use, patches };
}

const patch = fc.record({
  names: fc.nat(7),
  focus: fc.constantFrom('point', 'line'),
  centre: often<string | readonly number[]>(fc.constant('auto'), [0, 60], [0, 0]),
  outline: often<string | object>(
    fc.constant('auto'),
    { circle: { diameter: 8 } },
    { circle: { diameter: 400 } },
  ),
  lineAngle: often<string | number>(fc.constant('auto'), 90),
  size: often<object | undefined>(
    fc.constant(undefined),
    { most: 1e-3 },
    { least: 24 },
    { least: 20, most: 2 },
  ),
});

function patchOf(
  {
    names,
    focus,
    lineAngle,
    size,
    ...rest
  }: {
    readonly names: number;
    readonly focus: string;
    readonly lineAngle: unknown;
    readonly size: unknown;
    readonly outline: unknown;
  },
  k: number,
  count: number,
): object {
  return {
    id: `p${k}`,
    reference: `r${names % count}`,
    focus,
    ...(focus === 'line' ? { lineAngle } : {}),
    ...(rest.outline === 'auto' ? { size } : {}),
    ...rest,
  };
}

const wish = often<string | undefined>(fc.constantFrom('10 um', undefined), '1 pm', '1 nm', '1 km');
const turn = often<string | undefined>(fc.constantFrom('300 urad', undefined), '1e-12 rad', '90 deg');

/** The scenario's text. */
export const hostileOpen: fc.Arbitrary<string> = fc
  .record({
    references: fc.array(reference, { minLength: 1, maxLength: 6 }),
    patches: fc.array(patch, { maxLength: 3 }),
    measured: fc.option(fc.nat(7)),
    diameter: often(fc.constantFrom(150, 200), 1e-3, 8, 60, 9000),
    margin: often(fc.constantFrom(0, 3), 80),
    keepOut: often(fc.constantFrom(undefined, 90), 140, 1e-3),
    glass: fc.constantFrom(
      {},
      { thickness: 6.35, glass: 'fused silica', patternFaces: 'part' },
      { thickness: 300, glass: 'N-BK7', patternFaces: 'interferometer' },
    ),
    focus: often<object>(
      fc.constantFrom({ focus: [0, 0, -500], fNumber: 3.2 }, { focus: [0, 0, -2000], fNumber: 10 }),
      { focus: [0, 0, 1200], fNumber: 8 },
      { collimated: true, beamDiameter: 20 },
    ),
    minFeature: often(fc.constantFrom('0.8 um', '1 um'), '1 mm', '1 nm'),
    wanted: fc.record({ x: wish, y: wish, z: wish, rx: turn, ry: turn, rz: turn }),
  })
  .map(({ references, patches, measured, diameter, margin, keepOut, glass, focus, minFeature, wanted }) =>
    JSON.stringify({
      format: 'datumlight/1',
      light: { wavelength: '632.8 nm' },
      interferometer: { ...focus, pixelsAcrossBeam: 1000 },
      substrate: { outline: { circle: { diameter } }, ...glass, edgeMargin: margin, clearance: 0.5 },
      keepOuts: keepOut === undefined ? [] : [{ id: 'main', outline: { circle: { diameter: keepOut } } }],
      process: { kind: 'etched', minFeature },
      part: { origin: [0, 0, 150] },
      references: references.map(referenceOf),
      patches: patches.map((one, k) => patchOf(one, k, references.length)),
      measurements:
        measured === null
          ? []
          : [
              {
                id: 'm',
                reference: `r${measured % references.length}`,
                direction: [1, 0, 0],
                uncertainty: '1 um',
              },
            ],
      wanted,
    }),
  );
