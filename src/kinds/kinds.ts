/** The table of kinds of reference. A new kind has a file of its own beside this one, and its entry here. */
import { ballKind } from './ball.ts';
import { datumFeatureKind } from './datum-feature.ts';
import type { Kind } from './kind.ts';
import type { AnyReference } from './reference.ts';
import { returnRingKind } from './return-ring.ts';
import { screenKind } from './screen.ts';
import { smrKind } from './smr.ts';

const TABLE = [ballKind, smrKind, screenKind, returnRingKind, datumFeatureKind] as const;

/** A reference by what its kind has of its own: told apart by `kind`. */
export type ReferenceByKind = ReferenceIn<(typeof TABLE)[number]>;
type ReferenceIn<K extends Kind> = K extends Kind
  ? { readonly kind: K['kind'] } & Parameters<K['leaving']>[0]
  : never;
export type ReferenceKind = ReferenceByKind['kind'];

/** In the order in which people are told them. */
export const KINDS: readonly Kind[] = TABLE;

const BY_NAME: ReadonlyMap<string, Kind> = new Map(KINDS.map((kind) => [kind.kind, kind]));

/** Undefined for a word that is no kind's. */
export const kindNamed = (name: unknown): Kind | undefined => BY_NAME.get(name as string);

/** Throws a RangeError for a reference of no known kind. */
export function kindOf({ kind }: Pick<AnyReference, 'kind'>): Kind {
  const found = BY_NAME.get(kind);
  if (found === undefined) throw new RangeError(`no kind of reference is named ${kind}`);
  return found;
}

/** Whether it is read in that way. */
export const isReadBy = (reference: Pick<AnyReference, 'kind'>, way: Kind['read']): boolean =>
  kindOf(reference).read === way;
