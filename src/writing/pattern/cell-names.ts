/** Names of cells: from the patches' ids, in letters that every reader takes. */
import { GDSII_NAME_LENGTH } from './gdsii.ts';

/**
 * A name for each id, in their order: letters, digits, `_`, `?` and `$`, at most 32, none twice whatever the case. An id that is such a name
 * keeps it; no other cell is called by an id that is not its own. `taken` are names not to be used.
 */
export function cellNames(ids: readonly string[], taken: readonly string[]): readonly string[] {
  const used = new Set(taken.map(caseless));
  const names = ids.map((id) => {
    if (legalForm(id) !== id || used.has(caseless(id))) return undefined;
    used.add(caseless(id));
    return id;
  });
  const others = new Set(ids.map(caseless));
  return names.map((kept, k) => {
    if (kept !== undefined) return kept;
    const legal = legalForm(ids[k]!);
    for (let count = 1; ; count++) {
      const tail = count === 1 ? '' : `_${count}`;
      const name = legal.slice(0, GDSII_NAME_LENGTH - tail.length) + tail;
      if (used.has(caseless(name)) || others.has(caseless(name))) continue;
      used.add(caseless(name));
      return name;
    }
  });
}

const caseless = (name: string): string => name.toUpperCase();

const legalForm = (id: string): string =>
  id
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9_?$]/gu, '_')
    .slice(0, GDSII_NAME_LENGTH) || '_';
