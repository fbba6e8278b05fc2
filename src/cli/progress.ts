/** How far a long run is: one line that keeps being rewritten on a terminal; nothing into a pipe or a file. */
import type { Terminal } from './io.ts';

/** Between two rewritings of the line, ms: quicker than the eye reads does not help. */
const REWRITE_EVERY_MS = 100;
const ERASE_LINE = '\r\u001b[K';

interface Progress {
  /** `last`: shown whatever was shown just before. */
  say(line: string, last?: boolean): void;
  /** Takes the line away. */
  end(): void;
}

export function progressTo(stream: Terminal, quiet: boolean): Progress {
  if (quiet || stream.isTTY !== true) return { say: () => undefined, end: () => undefined };
  let shown = 0;
  return {
    say(line, last = false) {
      const now = Date.now();
      if (now - shown < REWRITE_EVERY_MS && !last) return;
      shown = now;
      stream.write(`${ERASE_LINE}${line}`);
    },
    end: () => void stream.write(ERASE_LINE),
  };
}
