/**
 * What a session of alignment keeps of its rounds: what was read, how the camera was turned, and which moves were asked for. mm and rad;
 * moves of the part along its own axes about its own origin, of the hologram and of a reference on a mount of its own in the substrate frame.
 */
import type { Vec3 } from '../geometry/vector.ts';
import type { BenchReading } from './bench-reading.ts';
import type { CameraOrientation } from './camera-orientation.ts';
import type { RoundName } from './round-name.ts';

/** Rotations are small: the order of the moves does not matter. */
interface RigidMove {
  readonly translation: Vec3;
  readonly rotation: Vec3;
}

/** Moves made between two looks at the bench. */
export interface BenchMove {
  /** Undefined where it stays; otherwise it is moved alone, before all else. */
  readonly hologram: RigidMove | undefined;
  /** Undefined where the part is not moved. */
  readonly part: RigidMove | undefined;
  /** By the id of the reference. */
  readonly references: ReadonlyMap<string, Vec3>;
}

export interface AskedMoves extends BenchMove {
  /** Of the whole correction. */
  readonly fraction: number;
}

export interface SessionRound {
  /** When it was read. */
  readonly moment: RoundName;
  /** Along the patches' senses. */
  readonly readings: readonly BenchReading[];
  readonly camera: CameraOrientation;
  /** What was left to move of these was no more than the readings' noise: `hologram`, `part`, ids of references. */
  readonly settled: readonly string[];
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

/** What is still settled once the moves of a round are made: against a hologram that was moved, nothing else. */
export const settledAfter = (round: SessionRound | undefined): readonly string[] =>
  (round?.settled ?? []).filter((of) => round?.asked?.hologram === undefined || of === 'hologram');
