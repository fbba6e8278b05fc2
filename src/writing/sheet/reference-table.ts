/** The references and where they stand by design: in the substrate frame and in the part frame, mm. */
import type { Design } from '../../design/design.ts';
import { placeFromParent } from '../../geometry/frame.ts';
import { NONE, place } from './figures.ts';
import { type Html, table } from './html.ts';

const SHORT_KINDS = { ball: 'ball', smr: 'SMR', screen: 'screen' } as const;

export function referenceTable({ references, scenario }: Design): Html {
  const rows = references.map(({ id, kind, diameter, at }) => [
    id,
    SHORT_KINDS[kind],
    diameter === undefined ? NONE : place(diameter),
    ...at.map(place),
    ...placeFromParent(scenario.part.frame, at).map(place),
  ]);
  return table(
    ['Reference', 'Kind', 'Diameter, mm', 'x', 'y', 'z', 'x, part', 'y, part', 'z, part'],
    rows,
    [2, 3, 4, 5, 6, 7, 8],
  );
}
