/**
 * What a session of alignment keeps of its rounds: what was read, how the camera was turned, and which moves were asked for. mm and rad;
 * moves of the part along its own axes about its own origin, of a reference on a mount of its own in the substrate frame.
 */
import type { Vec3 } from '../geometry/vector.ts';
import type { BenchReading } from './bench-reading.ts';
import type { CameraOrientation } from './camera-orientation.ts';
import type { RoundName } from './round-name.ts';

export interface AskedMoves {
  /** Of the whole correction. */
  readonly fraction: number;
  /** Undefined where the part is not moved. */
  readonly part: { readonly translation: Vec3; readonly rotation: Vec3 } | undefined;
  /** By the id of the reference. */
  readonly references: ReadonlyMap<string, Vec3>;
}

export interface SessionRound {
  /** When it was read. */
  readonly moment: RoundName;
  /** Along the patches' senses. */
  readonly readings: readonly BenchReading[];
  readonly camera: CameraOrientation;
  /** What was left to move was no more than the readings' noise. */
  readonly settled: boolean;
  /** Patches and measurements whose readings were not trusted. */
  readonly setAside: readonly string[];
  /** Undefined where none were: the readings contradicted each other, say. */
  readonly asked: AskedMoves | undefined;
  /** The readings were those predicted from the round before. */
  readonly confirmed: boolean;
  /** As it stands in the file, to be carried on. */
  readonly written: unknown;
}

/** SHA-256 of the scenario and of the files that it names, hex. */
export interface ScenarioHashes {
  readonly sha256: string;
  readonly files: Readonly<Record<string, string>>;
}

export interface BenchSession {
  readonly scenario: ScenarioHashes;
  readonly rounds: readonly SessionRound[];
}

export const SESSION_FORMAT = 'datumlight-session/1';
