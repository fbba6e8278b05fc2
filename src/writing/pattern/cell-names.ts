/** Names of cells that every reader takes, from ids: letters, digits, `_`, `?` and `$`, at most 32, none twice. */
import { GDSII_NAME_LENGTH } from './gdsii.ts';

/** One name for each id, in their order; `taken` are names not to be used. */
export function cellNames(ids: readonly string[], taken: readonly string[]): readonly string[] {
  const used = new Set(taken.map((name) => name.toUpperCase()));
  return ids.map((id) => {
    const legal =
      id
        .normalize('NFKD')
        .replace(/\p{M}/gu, '')
        .replace(/[^A-Za-z0-9_?$]/gu, '_') || '_';
    for (let count = 1; ; count++) {
      const tail = count === 1 ? '' : `_${count}`;
      const name = legal.slice(0, GDSII_NAME_LENGTH - tail.length) + tail;
      if (used.has(name.toUpperCase())) continue;
      used.add(name.toUpperCase());
      return name;
    }
  });
}
