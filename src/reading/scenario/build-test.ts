/** The null test that the patches serve: which of the part's surfaces, how much of it, and what its evaluation takes out. mm. */
import { type Fiducial, figureTerms, MAIN, type NullTest, REMOVED_TERMS } from '../../scenario/scenario.ts';
import { assemble, assembleList, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, listById } from '../yaml/identifiers.ts';
import { length, NOT_NEGATIVE, POSITIVE, point2, quantitiesGiven, quantity, word } from '../yaml/values.ts';
import { buildOutline } from './build-outline.ts';
import type { BuiltPart } from './build-part.ts';
import { buildOrder } from './build-patches.ts';
import { datumId } from './build-references.ts';

const USUAL_MARGIN = 1;
const USUALLY_REMOVED = ['piston', 'tilt', 'power'] as const;
/** Kinds of datum that light can meet square on over an area. */
const TESTABLE: readonly string[] = ['asphere', 'sphere', 'plane', 'cone', 'torus'];

export const buildTest = (field: Field, part: BuiltPart): Read<NullTest> =>
  assemble<NullTest>({
    surface: surfaceOf(field.get('surface'), part),
    aperture: buildOutline(field.get('aperture'), [0, 0]),
    order: buildOrder(field.get('order')),
    margin: quantity(field.get('margin'), 'length', NOT_NEGATIVE, USUAL_MARGIN),
    figure: field.get('figure').present ? length(field.get('figure'), POSITIVE) : undefined,
    removed: field.get('removed').present
      ? assembleList(field.items('removed').map((item) => word(item, REMOVED_TERMS)))
      : USUALLY_REMOVED,
    ownFigure: assemble<NonNullable<NullTest['ownFigure']>>(
      quantitiesGiven(field.get('ownFigure'), figureTerms, 'length', NOT_NEGATIVE),
    ),
    fiducials: listById(field.get('fiducials'), (item) =>
      assemble<Fiducial>({ id: identifier(item.get('id')), at: point2(item.get('at')) }),
    ),
  });

/** The test's own pattern has the id `main` wherever patterns are listed: nothing else on the glass may have it, in any case. */
export function refuseMainIds(root: Field): void {
  for (const [list, what, hint] of NAMED_APART) {
    for (const item of root.items(list)) {
      const id = item.get('id');
      if (String(id.value).toLowerCase() === MAIN)
        id.report(
          'duplicate-id',
          `${what} ${String(id.value)} has the id of the main pattern, which \`test\` designs`,
          hint,
        );
    }
  }
}

const NAMED_APART = [
  [
    'keepOuts',
    'keep-out',
    'remove the keep-out if it stands for the main pattern, which patches keep clear of without it; else rename it',
  ],
  ['patches', 'patch', 'choose another id'],
] as const;

function surfaceOf(field: Field, part: BuiltPart): Read<string> {
  const id = datumId(field, part.datums);
  const datum = id === FAULTY ? FAULTY : part.datums!.get(id)!;
  if (datum === FAULTY) return FAULTY;
  if (TESTABLE.includes(datum.kind)) return datum.id;
  return field.report(
    'bad-value',
    `the ${datum.kind} ${datum.id} is no surface that light can test`,
    'name an asphere, a sphere, a plane, a cone or a torus of the part’s datums',
  );
}
