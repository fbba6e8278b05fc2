/** How far a long run is: a line that keeps being rewritten on a terminal, plain lines at every tenth elsewhere. */
import type { Terminal } from './io.ts';

/** Between two rewritings of the line, ms: quicker than the eye reads does not help. */
const REWRITE_EVERY_MS = 100;
const ERASE_LINE = '\r\u001b[K';

interface Progress {
  /** `said` stands behind the counts. */
  step(done: number, total: number, said: string): void;
  /** Leaves the line as it is, or takes it away. */
  end(): void;
}

export function progressTo(stream: Terminal, quiet: boolean): Progress {
  if (quiet) return { step: () => undefined, end: () => undefined };
  return stream.isTTY === true ? rewritten(stream) : plain(stream);
}

function rewritten(stream: Terminal): Progress {
  let last = 0;
  return {
    step(done, total, said) {
      const now = Date.now();
      if (now - last < REWRITE_EVERY_MS && done < total) return;
      last = now;
      stream.write(`${ERASE_LINE}${done}/${total}${said}`);
    },
    end: () => void stream.write(ERASE_LINE),
  };
}

function plain(stream: Terminal): Progress {
  let tenth = 0;
  return {
    step(done, total, said) {
      const reached = Math.floor((10 * done) / total);
      if (reached === tenth) return;
      tenth = reached;
      stream.write(`${done}/${total}${said}\n`);
    },
    end: () => undefined,
  };
}
