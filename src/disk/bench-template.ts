/** The bench page without a design: one file that the build leaves beside the program, read when a package is made and not before. */
import { readFileSync } from 'node:fs';

/** Beside the bundle; and, where the program runs from its source, where the build leaves it. */
const PLACES = ['bench-page.html', '../../dist/bench-page.html'];

let kept: string | undefined;

/** Throws where the program was installed without it. */
export function benchTemplate(): string {
  kept ??= PLACES.reduce<string | undefined>((found, place) => found ?? textAt(place), undefined);
  if (kept === undefined)
    throw new Error('the program’s own file bench-page.html is missing: build it again');
  return kept;
}

/** The element of its program: the same in every page that is made from it. */
export function benchProgram(): string {
  const template = benchTemplate();
  return template.slice(template.indexOf('<script>'), template.lastIndexOf('</script>'));
}

function textAt(place: string): string | undefined {
  try {
    // ASCII, which is read and held faster as latin1.
    return readFileSync(new URL(place, import.meta.url), 'latin1');
  } catch {
    return undefined;
  }
}
