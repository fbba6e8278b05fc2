/// <reference lib="dom" />
/** The bench page: what runs in the operator's browser. */
import { answerTo } from './answer.ts';
import { jobOf } from './job.ts';

declare global {
  interface Window {
    /** For whoever drives the page by a program: a test, a macro of the laboratory. */
    datumlight: {
      /** Of the text of a readings file what `steer --json` prints; where the readings are refused, the findings alone. */
      steer(readings: string): unknown;
    };
  }
}

const { design } = jobOf(document);

window.datumlight = {
  steer(readings) {
    const answer = answerTo(design, readings);
    if ('refused' in answer) return { findings: answer.refused };
    return answer.works?.report ?? { findings: answer.findings };
  },
};
