/** What a bench's log says of one alignment: who, when, with which hologram, what was read at which moment, what was done. °C and Pa. */
import type { BenchReading } from './bench-reading.ts';
import type { SessionRound } from './bench-session.ts';
import type { CameraOrientation } from './camera-orientation.ts';
import type { RoundName } from './round-name.ts';

export interface LoggedRound {
  readonly round: RoundName;
  /** The file that they are from, of readings or a session; undefined where they stand in the log itself. */
  readonly file: string | undefined;
  /** Which round of the session it is, from 1; undefined where it is of none. */
  readonly sessionRound?: number;
  /** As they were seen: `camera` says how. */
  readonly readings: readonly BenchReading[];
  readonly camera: CameraOrientation;
  /** The readings as they were given, in the form of a readings file. */
  readonly given: Readonly<Record<string, unknown>>;
}

export interface LoggedStep {
  readonly step: string;
  /** A time, a name and a remark as they were written down. */
  readonly at: string | undefined;
  readonly by: string | undefined;
  readonly note: string | undefined;
}

/** The session that the alignment was steered in. */
interface LoggedSession {
  readonly file: string;
  readonly rounds: readonly SessionRound[];
}

export interface AlignmentLog {
  /** Of the hologram; undefined where the log does not give it. */
  readonly serial: string | undefined;
  /** As it was written down. */
  readonly date: string;
  readonly part: string | undefined;
  readonly operator: string | undefined;
  readonly witness: string | undefined;
  readonly temperature: number | undefined;
  readonly pressure: number | undefined;
  readonly remarks: readonly string[];
  readonly steps: readonly LoggedStep[];
  /** Undefined where there is none. */
  readonly session?: LoggedSession;
  /** One at least. */
  readonly rounds: readonly LoggedRound[];
}
