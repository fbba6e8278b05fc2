/** Of `fringes`, a first look in a terminal: the strips of the first patches in dots. */
import type { Design } from '../../design/design.ts';
import { brailleLines } from '../../writing/picture/braille.ts';
import { captionOf } from '../../writing/picture/fringes-page.ts';
import { pictureSet, type SetOptions } from '../../writing/picture/picture-set.ts';
import type { Io } from '../io.ts';

/** Of a terminal that does not say. */
const DEFAULT_COLUMNS = 80;
/** Letters across and lines down of one picture in a terminal, and of the gap between two. */
const PREVIEW = { letters: 16, lines: 8, gap: 2, patches: 4 } as const;

/** Nothing where standard output is no terminal. */
export function preview(design: Design, set: SetOptions, { stdout, env }: Io): void {
  if (stdout.isTTY !== true || env.TERM === 'dumb') return;
  const room = (stdout as { columns?: number }).columns || DEFAULT_COLUMNS;
  const across = Math.max(1, Math.floor((room + PREVIEW.gap) / (PREVIEW.letters + PREVIEW.gap)));
  const all = [...(design.main === undefined ? [] : [design.main]), ...design.patches];
  const seen = all.filter(({ id }) => set.patches?.includes(id) ?? true).map(({ id }) => id);
  const small = { ...set, patches: seen.slice(0, PREVIEW.patches), size: PREVIEW.letters * 2 };
  const pictures = pictureSet(design, small).filter(({ patch }) => patch !== undefined);
  for (const id of small.patches) {
    // The user's own case and the way's end first, where not all have room.
    const own = pictures.filter(({ patch }) => patch === id);
    const strip = own.length > across ? own.slice(-across) : own;
    if (strip.length === 0) continue;
    stdout.write(`${id}\n`);
    const drawn = strip.map(({ picture }) => brailleLines(picture));
    for (let line = 0; line < PREVIEW.lines; line++) {
      stdout.write(`${drawn.map((lines) => lines[line]).join(' '.repeat(PREVIEW.gap))}\n`);
    }
    for (const picture of strip) stdout.write(`  ${captionOf(picture)}\n`);
    stdout.write('\n');
  }
}
