/**
 * Why a ball has no one place by its touches: the code, what is wrong with its figures, and what would be right.
 * Figures in messages are mm (to 0.0001 mm) and degrees, places in the part frame.
 */
import { dot, length, squareTo, subtract, type Vec3 } from '../geometry/vector.ts';
import { trimmed } from '../quantity/format.ts';
import { independent } from './centre-search.ts';
import type { Datum } from './datum.ts';
import { axisOf, azimuthDirection, type Demand, type Word, wordGradient } from './touch-condition.ts';

export interface Fault {
  readonly code: 'touch-underdetermined' | 'touch-overdetermined' | 'touch-impossible' | 'touch-ambiguous';
  readonly message: string;
  readonly hint: string;
  /** Position of the touch to blame, from 0, where it is one. */
  readonly touch?: number;
}

/** Conditions that differ by less (mm) are said to agree: what a figure written to a tenth of a micrometre can be off by. */
const AGREES = 1e-4;
/** A word can tell two centres apart when it differs by this much between them (mm, for an azimuth along the arc). */
const TELLS_APART = 0.1;
/** More places than this are counted, not listed. */
const MOST_LISTED = 4;

const impossible = (message: string, hint: string, touch: number): Fault => ({
  code: 'touch-impossible',
  message,
  hint,
  touch,
});

export const faults = {
  unknown(name: string, datums: readonly Datum[], touch: number): Fault {
    const known = datums.map(({ id }) => id).join(', ');
    const hint =
      known === '' ? 'give the part’s datums under `part.datums`' : `the part’s datums are ${known}`;
    return impossible(`there is no datum ${name}`, hint, touch);
  },

  nothingTouched(): Fault {
    return {
      code: 'touch-underdetermined',
      message: 'the ball touches no datum',
      hint: 'name the datums it touches under `touches`, or give its position as `at`',
    };
  },

  noBall(diameter: number, touch: number): Fault {
    return impossible(`the ball’s diameter is ${diameter} mm`, 'give a diameter above 0', touch);
  },

  noDirection(datum: Datum, what: string, touch: number): Fault {
    return impossible(`the ${datum.kind} ${datum.id} has no ${what}`, 'give a nonzero vector', touch);
  },

  noAngle(datum: Datum, angle: number, touch: number): Fault {
    const hint = 'give the full angle between its sides, above 0 and under 180 deg';
    return impossible(`the ${datum.kind} ${datum.id} has an angle of ${degrees(angle)}`, hint, touch);
  },

  tooLarge(datum: Datum, bore: number, ball: number, touch: number): Fault {
    return impossible(
      `a ball of ${mm(ball)} mm does not fit into ${datum.kind} ${datum.id}, whose inside diameter is ${mm(bore)} mm`,
      `use a ball of at most ${mm(bore)} mm, or let it touch the outside with \`side: outside\``,
      touch,
    );
  },

  outOfReach(demands: readonly Demand[], miss: number, ball: number): Fault {
    const last = demands.findLast(
      (demand) => demand.word === undefined && demand.conditions.some((c) => !c.flat),
    );
    return impossible(
      `a ball of ${mm(ball)} mm cannot satisfy ${list(demands.map(named))} together: the best fit misses by ${trimmed(miss, SEARCHED_DECIMALS)} mm`,
      'use another diameter, or correct the datums or the values that fix the ball',
      (last ?? demands.at(-1)!).touch,
    );
  },

  wrongSide(demands: readonly Demand[], touched: readonly Datum[], centres: readonly Vec3[]): Fault {
    const { touch } =
      demands.find((demand) => demand.word === 'azimuth' && centres.every((c) => demand.miss(c) > 0)) ??
      demands.find((demand) => demand.word === 'azimuth')!;
    const found = centres.map((c) => degrees(azimuthOf(touched[touch]!, c)));
    return impossible(
      `the azimuth at ${touched[touch]!.id} lies on the far side: the other conditions put the ball at ${list(found)}`,
      `give \`azimuth: ${found[0]}\`, or reverse the datum’s axis`,
      touch,
    );
  },

  tooMany(spare: readonly Demand[], centres: readonly Vec3[], fixed: boolean): Fault {
    const first = spare[0]!;
    const miss = Math.min(...centres.map((c) => first.miss(c)));
    const verdict = miss <= AGREES ? 'it agrees with them' : `it contradicts them by ${mm(miss)} mm`;
    const others = fixed ? 'the other conditions fix the centre without it' : 'the other conditions imply it';
    const rest =
      spare.length > 1 ? `; so ${spare.length === 2 ? 'is' : 'are'} ${list(spare.slice(1).map(named))}` : '';
    return {
      code: 'touch-overdetermined',
      message: `${named(first)} is redundant: ${others}, and ${verdict}${rest}`,
      hint:
        first.word === undefined
          ? 'remove that touch, or remove one of the others'
          : `remove \`${first.word}\`, or remove one of the others`,
      touch: first.touch,
    };
  },

  /** Words given over and above the touches, which pass by every one of several centres. */
  noChoice(spare: readonly Demand[], touched: readonly Datum[], centres: readonly Vec3[]): Fault {
    const miss = Math.min(...centres.map((c) => Math.max(...spare.map((demand) => demand.miss(c)))));
    const { message, ...rest } = faults.several(touched, centres);
    return { ...rest, message: `${message}; ${list(spare.map(named))} misses the nearest by ${mm(miss)} mm` };
  },

  /** `held`: orthonormal directions that the touches fix at `centre`. */
  free(touched: readonly Datum[], held: readonly Vec3[], centre: Vec3): Fault {
    const missing: { touch: number; word: Word }[] = [];
    let span = held;
    for (const candidate of usefulWords(touched)) {
      const wider = independent([...span, wordGradient(touched[candidate.touch]!, candidate.word, centre)]);
      if (wider.length > span.length) missing.push(candidate);
      span = wider;
    }
    const freedoms = missing.map(({ touch, word }) => freedom(touched[touch]!, word));
    const cures = missing.map(({ touch, word }) => `\`${word}\` at ${touched[touch]!.id}`);
    const more =
      missing.length === 1 ? 'one more datum' : `${missing.length === 2 ? 'two' : 'three'} more datums`;
    return {
      code: 'touch-underdetermined',
      message: `the ball touches ${list([...new Set(touched.map(({ id }) => id))])} but is still free to ${list(freedoms)}`,
      hint: `give ${list(cures)}, or touch ${more}`,
      touch: missing[0]?.touch ?? 0,
    };
  },

  several(touched: readonly Datum[], centres: readonly Vec3[]): Fault {
    const places = centres.slice(0, MOST_LISTED).map((c) => `[${c.map(mm).join(', ')}]`);
    const unlisted = centres.length > MOST_LISTED ? ', and others' : '';
    const word = usefulWords(touched).find(({ touch, word }) => tellsApart(touched[touch]!, word, centres));
    const figure = (c: Vec3): string => wordText(touched[word!.touch]!, word!.word, c);
    return {
      code: 'touch-ambiguous',
      message: `${centres.length} centres in the part frame satisfy every touch: ${places.join(', ')}${unlisted}`,
      hint:
        word === undefined
          ? 'replace one of these touches with a touch on another datum'
          : `choose one with \`${word.word}\` at ${touched[word.touch]!.id}: ${list(centres.slice(0, MOST_LISTED).map(figure), 'or')}`,
      touch: word?.touch ?? 0,
    };
  },
};

/** The words that come to mind for these datums, the natural ones first. */
function usefulWords(touched: readonly Datum[]): readonly { touch: number; word: Word }[] {
  const own: Record<Datum['kind'], readonly Word[]> = {
    plane: [],
    cylinder: ['azimuth', 'height'],
    cone: ['azimuth', 'height'],
    sphere: ['azimuth', 'height'],
    torus: ['azimuth', 'height'],
    point: ['azimuth', 'height'],
    asphere: ['azimuth', 'height'],
    vee: ['height'],
  };
  return [
    ...touched.flatMap((datum, touch) => own[datum.kind].map((word) => ({ touch, word }))),
    ...(['x', 'y', 'z'] as const).map((word) => ({ touch: 0, word })),
  ];
}

function freedom(datum: Datum, word: Word): string {
  const line =
    datum.kind === 'sphere' || datum.kind === 'point' ? `the z through ${datum.id}` : `${datum.id}’s axis`;
  if (word === 'azimuth') return `turn about ${line}`;
  return word === 'height' ? `slide along ${line}` : `move along the part’s ${word}`;
}

function tellsApart(datum: Datum, word: Word, centres: readonly Vec3[]): boolean {
  const { point, axis } = axisOf(datum);
  return centres.every((c, i) =>
    centres.slice(i + 1).every((other) => {
      const between = subtract(other, c);
      if (word === 'azimuth') {
        const [p, q] = [squareTo(subtract(c, point), axis), squareTo(subtract(other, point), axis)];
        const least = Math.min(length(p), length(q));
        return least > TELLS_APART && turnBetween(p, q) * least > TELLS_APART;
      }
      return Math.abs(dot(between, wordGradient(datum, word, c))) > TELLS_APART;
    }),
  );
}

const turnBetween = (p: Vec3, q: Vec3): number =>
  Math.acos(Math.min(1, Math.max(-1, dot(p, q) / (length(p) * length(q)))));

/** 0 to 2π. */
function azimuthOf(datum: Datum, centre: Vec3): number {
  const { point, axis } = axisOf(datum);
  const away = subtract(centre, point);
  const angle = Math.atan2(
    dot(away, azimuthDirection(axis, Math.PI / 2)),
    dot(away, azimuthDirection(axis, 0)),
  );
  return angle < 0 ? angle + 2 * Math.PI : angle;
}

function wordText(datum: Datum, word: Word, centre: Vec3): string {
  if (word === 'azimuth') return degrees(azimuthOf(datum, centre));
  const { point, axis } = axisOf(datum);
  if (word === 'height') return mm(dot(subtract(centre, point), axis));
  return mm(centre[{ x: 0, y: 1, z: 2 }[word] as 0 | 1 | 2]);
}

const named = ({ datum, word }: Demand): string =>
  word === undefined ? `the touch on ${datum}` : `\`${word}\` at ${datum}`;

function list(items: readonly string[], joint = 'and'): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} ${joint} ${items.at(-1)}`;
}

const DECIMALS = 4;
/** Of a miss that a search found, to a millionth of the datums' size. */
const SEARCHED_DECIMALS = 2;
const mm = (value: number): string => trimmed(value, DECIMALS);
const degrees = (angle: number): string => `${trimmed((angle * 180) / Math.PI, DECIMALS)} deg`;
