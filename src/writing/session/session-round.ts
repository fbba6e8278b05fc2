/** One round of a session of alignment as its file keeps it: what was read, what was found, what was asked for. µm, µrad, turns, fringes. */
import { scale } from '../../geometry/vector.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { AskedMoves, SessionRound } from '../../scenario/bench-session.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { RoundName } from '../../scenario/round-name.ts';
import { moveRow, xyz } from '../steering/bench-figures.ts';
import type { steeringReport } from '../steering/steering-report.ts';
import { readingEntry } from './session-text.ts';

interface Round {
  readonly moment: RoundName;
  readonly readings: readonly BenchReading[];
  readonly camera: CameraOrientation;
  readonly asked: AskedMoves | undefined;
  readonly confirmed: boolean;
  readonly setAside: readonly string[];
  /** Codes of what was found wrong with the readings. */
  readonly codes: readonly string[];
  /** Undefined where nothing was worked out. */
  readonly report: ReturnType<typeof steeringReport> | undefined;
}

/** `number` counts from 1. */
export function sessionRound(number: number, { codes, report, ...round }: Round): SessionRound {
  const { moment, readings, camera, asked, confirmed, setAside } = round;
  const settled = report?.settled ?? [];
  const written = {
    round: number,
    ...(moment === 'before' ? {} : { moment }),
    camera: { ...camera },
    readings: readings.map(readingEntry),
    confirmed,
    settled,
    setAside,
    found: { codes: [...new Set(codes)], ...(report === undefined ? {} : foundRow(report)) },
    asked:
      asked === undefined
        ? null
        : askedRow(asked, asked.hologram === undefined ? report?.step.screws : undefined),
  };
  return { ...round, settled, written };
}

function foundRow({ done, over, hologram, part, references, left }: NonNullable<Round['report']>) {
  return {
    done,
    over: over.map(({ of, degree }) => `${of} ${degree}`),
    ...(hologram === undefined
      ? {}
      : { hologram: { move_um: hologram.move_um, move_urad: hologram.move_urad, sigma: hologram.sigma } }),
    part:
      part.readings === 0 ? null : { move_um: part.move_um, move_urad: part.move_urad, sigma: part.sigma },
    references: Object.fromEntries(
      references.map(({ id, move_um, sigma_um }) => [id, { move_um, sigma_um }]),
    ),
    left: left.map(({ suspect, normalised, ...row }) => row),
  };
}

/** `screws`: turns of each, by its id; undefined where the part stands on no stage. */
export function askedRow(
  { fraction, hologram, part, references }: AskedMoves,
  screws: Readonly<Record<string, number>> | undefined,
) {
  return {
    fraction,
    ...(hologram === undefined ? {} : { hologram: moveRow(hologram) }),
    part: part === undefined ? null : moveRow(part),
    references: Object.fromEntries(
      [...references].map(([id, move]) => [id, { move_um: xyz(scale(move, UM_PER_MM), 1) }]),
    ),
    ...(screws === undefined ? {} : { screws }),
  };
}
