/** Where two records of the same readings differ: numbers beyond rounding, anything else that is not the same, but for words. */

/** Another machine's functions, or a step more of an iteration: this part of a figure, and so much of a µm, µrad or nm besides. */
const SAME_PART = 1e-6;
const SAME_SIZE = 1e-5;

/** Keys of words, which another version may put otherwise; the record's own hash holds them. */
const WORDS = new Set(['message', 'hint', 'words', 'freeMotions', 'sha256']);

/** Keys that a record of an earlier version may lack. */
const MAY_LACK = new Set(['numbers', 'session', 'setAside']);

/** Of a record, `one`, and of what comes out anew. Paths such as `rounds[0].place.displacement.x`. */
export function differingFigures(one: unknown, other: unknown, path = ''): readonly string[] {
  if (typeof one === 'number' && typeof other === 'number') {
    const near = SAME_PART * Math.max(Math.abs(one), Math.abs(other)) + SAME_SIZE;
    return Math.abs(one - other) <= near ? [] : [path];
  }
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return one === other ? [] : [path];
  if (Array.isArray(one) !== Array.isArray(other)) return [path];
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])].filter(
    (key) => !WORDS.has(key) && !(MAY_LACK.has(key) && !Object.hasOwn(one, key)),
  );
  return keys.flatMap((key) => {
    const below = Array.isArray(one) ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`;
    const at = (value: object): unknown =>
      Object.hasOwn(value, key) ? (value as Record<string, unknown>)[key] : undefined;
    return differingFigures(at(one), at(other), below);
  });
}
