/** What is worked out once for something of a design (a patch, a reference), and kept as long as the design is. */
import type { Design } from './design.ts';

export function keptWith<Of, Found>(
  find: (design: Design, of: Of) => Found,
): (design: Design, of: Of) => Found {
  const kept = new WeakMap<Design, Map<Of, Found>>();
  return (design, of) => {
    const known = kept.get(design) ?? new Map<Of, Found>();
    kept.set(design, known);
    if (known.has(of)) return known.get(of) as Found;
    const found = find(design, of);
    known.set(of, found);
    return found;
  };
}
