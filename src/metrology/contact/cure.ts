/**
 * What would let a ball touch and cut nothing: one change of its words or of a datum that it touches, tried by placing the ball anew.
 * First the mistakes that are made most: a side or a normal the other way round, an azimuth or a height with the wrong sign; then the
 * nearest azimuth at which the place is free; last a radius given for a diameter.
 */
import type { Design } from '../../design/design.ts';
import { negate } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import type { Datum, Touch } from '../../scenario/datum.ts';
import { placeReference } from '../../scenario/touch.ts';
import { cutsOf, missesOf, type Standing } from './contacts.ts';

/** Azimuths are tried at this step, to both sides, up to half a turn. */
const STEP = Math.PI / 36;

interface Change {
  readonly touches: readonly Touch[];
  readonly datums: readonly Datum[];
  readonly words: string;
}

/** As a hint, such as `reverse the normal of A: [0, 0, 1]`; undefined where no single change helps. */
export function cureOf(design: Design, ball: Standing): string | undefined {
  const known = kept.get(design) ?? new Map<string, string | undefined>();
  kept.set(design, known);
  if (!known.has(ball.id)) known.set(ball.id, found(design, ball));
  return known.get(ball.id);
}

/** Two rules ask for it: by the ids of the references. */
const kept = new WeakMap<Design, Map<string, string | undefined>>();

function found(design: Design, ball: Standing): string | undefined {
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
  for (const other of [otherSide, otherNormal])
    for (const datum of touched) yield* withDatum(ball, datum, other(datum));
  for (const [k, touch] of ball.touches.entries())
    for (const [changed, words] of otherWords(touch)) {
      const touches = ball.touches.map((one, i) => (i === k ? changed : one));
      yield { touches, datums: ball.datums, words };
    }
  for (const datum of touched) yield* withDatum(ball, datum, twiceAsLarge(datum));
}

function* withDatum(ball: Standing, datum: Datum, other: Other | undefined): Generator<Change> {
  if (other === undefined) return;
  const datums = ball.datums.map((one) => (one === datum ? other.datum : one));
  yield { touches: ball.touches, datums, words: other.words };
}

interface Other {
  readonly datum: Datum;
  readonly words: string;
}

function otherNormal(datum: Datum): Other | undefined {
  if (datum.kind !== 'plane') return undefined;
  const normal = negate(datum.normal);
  const text = normal.map((value) => trimmed(value + 0, 4)).join(', ');
  const words = `reverse the normal of ${datum.id}, to [${text}]: it points out of the material`;
  return { datum: { ...datum, normal }, words };
}

/** Never the inside: an envelope of convex solids would take any hollow. */
function otherSide(datum: Datum): Other | undefined {
  if (!('side' in datum) || datum.side === 'outside') return undefined;
  return { datum: { ...datum, side: 'outside' }, words: `give ${datum.id} \`side: outside\`` };
}

/** A radius given for a diameter. */
function twiceAsLarge(datum: Datum): Other | undefined {
  if (datum.kind !== 'cylinder' && datum.kind !== 'sphere') return undefined;
  const diameter = 2 * datum.diameter;
  const words = `give ${datum.id} \`diameter: ${trimmed(diameter, 4)} mm\`, if ${trimmed(datum.diameter, 4)} mm is its radius`;
  return { datum: { ...datum, diameter }, words };
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
