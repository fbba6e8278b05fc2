/**
 * What would let a ball touch and cut nothing: one change of its words or of a datum that it touches, tried by placing the ball anew.
 * First the mistakes that are made most: a normal or a side the other way round, an azimuth or a height with the wrong sign; then the
 * nearest azimuth at which the place is free.
 */
import type { Design } from '../../design/design.ts';
import { negate } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import type { Datum, Touch } from '../../scenario/datum.ts';
import { placeReference } from '../../scenario/touch.ts';
import { cutsOf, missesOf, type Standing } from './contacts.ts';

/** Azimuths are tried at this step, to both sides, up to half a turn. */
const STEP = Math.PI / 60;

interface Change {
  readonly touches: readonly Touch[];
  readonly datums: readonly Datum[];
  readonly words: string;
}

/** As a hint, such as `reverse the normal of A: [0, 0, 1]`; undefined where no single change helps. */
export function cureOf(design: Design, ball: Standing): string | undefined {
  if (ball.touches.length === 0) return undefined;
  for (const change of changesOf(ball)) if (helps(design, ball, change)) return change.words;
  return undefined;
}

function helps(design: Design, ball: Standing, { touches, datums }: Change): boolean {
  const place = placeReference(touches, datums, 2 * ball.radius, design.scenario.part.frame);
  if (!('at' in place)) return false;
  const moved: Standing = { ...ball, touches, datums, at: place.at };
  return missesOf(design, moved).length === 0 && cutsOf(design, moved).length === 0;
}

function* changesOf(ball: Standing): Generator<Change> {
  const touched = ball.datums.filter(({ id }) => ball.touches.some(({ datum }) => datum === id));
  for (const datum of touched) {
    const other = otherWayRound(datum);
    if (other === undefined) continue;
    const datums = ball.datums.map((one) => (one === datum ? other.datum : one));
    yield { touches: ball.touches, datums, words: other.words };
  }
  for (const [k, touch] of ball.touches.entries())
    for (const [changed, words] of otherWords(touch)) {
      const touches = ball.touches.map((one, i) => (i === k ? changed : one));
      yield { touches, datums: ball.datums, words };
    }
}

function otherWayRound(datum: Datum): { readonly datum: Datum; readonly words: string } | undefined {
  if (datum.kind === 'plane') {
    const normal = negate(datum.normal);
    const text = normal.map((value) => trimmed(value + 0, 4)).join(', ');
    return {
      datum: { ...datum, normal },
      words: `reverse the normal of ${datum.id}, to [${text}]: it points out of the material`,
    };
  }
  if (!('side' in datum)) return undefined;
  const side = datum.side === 'outside' ? 'inside' : 'outside';
  return { datum: { ...datum, side }, words: `give ${datum.id} \`side: ${side}\`` };
}

function* otherWords(touch: Touch): Generator<readonly [Touch, string]> {
  const { datum, azimuth, height } = touch;
  if (height !== undefined)
    yield [{ ...touch, height: -height }, `give \`height: ${trimmed(-height, 4)} mm\` at ${datum}`];
  if (azimuth === undefined) return;
  const near = Array.from({ length: Math.round(Math.PI / STEP) }, (_, k) => (k + 1) * STEP);
  const others = [-azimuth, azimuth + Math.PI, Math.PI - azimuth].map(reduced);
  for (const other of [...others, ...near.flatMap((step) => [azimuth + step, azimuth - step])])
    yield [
      { ...touch, azimuth: other },
      `give \`azimuth: ${trimmed((reduced(other) * 180) / Math.PI, 4)} deg\` at ${datum}`,
    ];
}

/** 0 to 2π, less a rounding error. */
const reduced = (angle: number): number => angle - 2 * Math.PI * Math.floor(angle / (2 * Math.PI) + 1e-12);
