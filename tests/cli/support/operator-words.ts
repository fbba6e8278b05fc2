/**
 * The words in which the sheet, the captions of `fringes`, and the texts of `steer` and `transfer` speak to the operator: every regular
 * expression of these tests, with named groups, so that a rewording is one edit here. Texts have their markup stripped and their blanks
 * run together (`plainText`).
 */

const NUMBER = '[−-]?\\d+(?:\\.\\d+)?';
const CLOCK = '(?:half past \\d+|\\d+ o’clock)';
const VECTOR = (x: string): string => `\\((?<${x}x>${NUMBER}), (?<${x}y>${NUMBER}), (?<${x}z>${NUMBER})\\)`;

/** A minus may be a true one. */
export const numberOf = (text: string): number => Number(text.replace('−', '-'));
export const numbersOf = (text: string): readonly number[] =>
  (text.match(new RegExp(NUMBER, 'g')) ?? []).map(numberOf);

/** Hours from `3 o’clock` or `half past 3`. */
export function hoursSaid(words: string): number {
  const [digits] = /\d+/.exec(words)!;
  return (Number(digits) % 12) + (words.startsWith('half') ? 0.5 : 0);
}

/** What an aligned patch shows, where that is any fringe. */
const SHOWS = `(?:\\(shows (?<shows>${NUMBER}) fringes?\\) )?`;

/** A picture's state. */
const STATE =
  '(?<state>far off|coarse|one fringe(?= off)|aligned|second direction|along the light|displaced)(?: off)?';

/** The section of one patch on the sheet. */
export const SHEET = {
  /** One for each direction that the patch senses. */
  whichWay: new RegExp(
    `Moving the reference (?:toward (?<clock>${CLOCK})|(?<axial>away from|toward) the hologram), along ${VECTOR('')}: ` +
      `(?<effect>.+?)\\. (?<umPerFringe>${NUMBER}) µm per fringe\\.`,
    'g',
  ),
  stop: /Stop when (?<seen>.+?): the reference is then within (?<within>.+?) \(/,
  readableFrom: /Readable within (?<from>.+?) of its position/,
  falseNull: new RegExp(
    `The same number of fringes shows with the reference (?<um>${NUMBER}) µm off, (?:toward (?<clock>${CLOCK})|(?<axial>away from|toward) the hologram), along ${VECTOR('')}\\. ` +
      `Test with a small move that way: it must open the fringes out\\. If it closes them up, the reference is at the false null: go back by (?<back>${NUMBER}) µm\\.`,
  ),
  /** Beneath the strip of pictures. */
  state: new RegExp(
    `${STATE} ${SHOWS}` + `(?:in place|(?<um>${NUMBER}) µm off, (?<fringes>${NUMBER}) fringes?)`,
    'g',
  ),
  biasAtPlace: new RegExp(
    `Fringes at the design position: (?:none specified; (?<none><?${NUMBER}) by the traced return|(?<shape>roof|tilt) of (?<asked>${NUMBER}) specified, (?<seen>${NUMBER}) by the traced return|(?<nothing>not counted))`,
  ),
} as const;

/** What is seen of a move. */
const EFFECTS = {
  straight: new RegExp(
    `straight fringes appear, perpendicular to the line from (?<from>${CLOCK}) to (?<to>${CLOCK}); only a trial move shows their sign`,
  ),
  rings: /(?<rings>rings appear); only a trial move shows their sign/,
  bow: new RegExp(`the fringes bow, with their middles toward (?<bow>${CLOCK})`),
  bowFromRidge: /with their middles (?<ridge>away from|toward) the line between the halves/,
  arrowheads: new RegExp(`form arrowheads that point to (?<point>${CLOCK})`),
  closingHalf: new RegExp(`the half toward (?<closing>${CLOCK}) closes up and the other opens out`),
  turn: /the fringes turn (?<turn>clockwise|counterclockwise)/,
  density: /\b(?<density>close up|open out)\b/,
} as const;

export interface SaidEffect {
  readonly straight?: { readonly from: number; readonly to: number };
  readonly rings?: true;
  readonly bow?: number;
  readonly bowFromRidge?: 'outward' | 'inward';
  readonly arrowheads?: number;
  readonly closingHalf?: number;
  readonly turn?: 'clockwise' | 'counterclockwise';
  readonly density?: 'closer' | 'wider';
}

export function effectSaid(words: string): SaidEffect {
  const of = (name: keyof typeof EFFECTS) => EFFECTS[name].exec(words)?.groups;
  const [straight, rings, bow, fromRidge] = [of('straight'), of('rings'), of('bow'), of('bowFromRidge')];
  const [point, closing, turn, density] = [of('arrowheads'), of('closingHalf'), of('turn'), of('density')];
  return {
    ...(straight && { straight: { from: hoursSaid(straight.from!), to: hoursSaid(straight.to!) } }),
    ...(rings && { rings: true as const }),
    ...(bow && { bow: hoursSaid(bow.bow!) }),
    ...(fromRidge && { bowFromRidge: fromRidge.ridge === 'toward' ? 'inward' : ('outward' as const) }),
    ...(point && { arrowheads: hoursSaid(point.point!) }),
    ...(closing && { closingHalf: hoursSaid(closing.closing!) }),
    ...(turn && { turn: turn.turn as 'clockwise' }),
    ...(density && { density: density.density === 'close up' ? 'closer' : ('wider' as const) }),
  };
}

/** What a patch shows when it is done. */
export const STOP = {
  grey: new RegExp(`uniformly grey to (?<readable>${NUMBER}) fringe`),
  halves: new RegExp(
    `run straight through both halves, with no arrowhead larger than (?<readable>${NUMBER}) fringe across`,
  ),
  straight: new RegExp(
    `(?<count>One|${NUMBER}) straight fringes? cross(?:es)? the patch as in the picture, to ±(?<readable>${NUMBER}) fringe`,
  ),
} as const;

/** On the page of `fringes` and beneath its pictures. */
export const PICTURES = {
  /** From where the pictures are seen. */
  from: /Seen from the (?<part>part side: x to the right|interferometer: x to the left), y up/,
  caption: new RegExp(
    `${STATE}(?: \\(shows (?<shows>${NUMBER}) fringes?\\))?: ` +
      `(?:in place|(?<um>${NUMBER}) µm off(?: ${VECTOR('')} µm)?(?:, (?<fringes>${NUMBER}(?:, ${NUMBER})*) fringes?)?)`,
  ),
} as const;

const NAME = '[\\w-]+';
const NAMES = '[\\w-]+(?:(?:, | and )[\\w-]+)*';

/** The order of work: the heads of its steps in their order, and what each asks for. */
export const WORK = {
  heads: [
    'Hologram into its mount.',
    'Hologram to the beam, by',
    'Coarse, by marks.',
    'Contact.',
    'Coarse, by a scale and a card.',
    'Lengths measured otherwise.',
    'References',
    'The part itself, at normal incidence.',
    'Seats on the glass.',
    'The part, by laser tracker.',
    'What no reading shows.',
    'Clamping.',
    'Reseating.',
    'The null, last.',
  ],
  mount:
    /pattern toward the (?<faces>part|interferometer)(?:, so that the light crosses the glass (?<side>before|after) the pattern)?/,
  ring: new RegExp(`Align the hologram with the fringes of (?<ring>${NAMES}):`),
  reflection: /Tilt the hologram until its reflection returns/,
  byScale: /Set its tilt and its position by measurement: this design has no return ring/,
  fewest: /Done when no more than \S+ straight fringes of tilt are left over the whole beam/,
  biased: new RegExp(`Done when (?<ring>${NAMES}) shows (?<fringes>${NUMBER}) ± `),
  screen: new RegExp(`Bring the light of (?<patches>${NAMES}) onto (?:its mark|the marks)\\.`),
  screens: new RegExp(
    `(?:marks? (?:is|are) on (?<on>${NAMES}): move|[Ss]creens? (?<standing>${NAMES}) stands? on)`,
  ),
  card: /on a card there/,
  close: new RegExp(
    `(?:A closer setting is needed for (?<patches>${NAMES})|(?<every>Every patch) needs a closer setting): (?:its|their) fringes are readable only within (?<mm>${NUMBER}) mm`,
  ),
  noneClose: /From there the fringes of every patch are readable/,
  sequence: new RegExp(
    `from the patches with the fewest fringes per micrometre to those with the most: (?<patches>${NAMES})\\.`,
  ),
  touching: new RegExp(`(?<reference>${NAME}): against (?<datums>${NAMES})`, 'g'),
  carried: new RegExp(
    `by fringes\\. (?<references>${NAMES}): (?:(?<fixed>move the part, not)|(?<onMounts>move (?:each by )?its own mount)|(?<unsaid>move what carries)|move the part by its screws \\((?<screws>${NAMES})\\))`,
  ),
  sphere: new RegExp(`(?<id>${NAME}): a sphere, which shows no rotation about its centre`, 'g'),
  plane: new RegExp(`(?<id>${NAME}): a plane, which shows tilt alone`, 'g'),
  unseen: /; it is free (?<motions>.*?)\. Constrain/,
  points: new RegExp(
    `first those at their foci, (?<hologram>${NAMES}); then those on the part, (?<part>${NAMES});`,
  ),
} as const;

/** Names in a sentence. */
export const namesIn = (words: string | undefined): readonly string[] => words?.split(/, | and /) ?? [];

/** Beneath the drawing of the hologram as the operator sees it. */
export const VIEW = {
  drawing: /SEEN FROM THE INTERFEROMETER.*x to the left and y up/,
} as const;

/** Lines of `steer` and of `transfer`. */
export const MOVES = {
  /** Moves and not errors. */
  corrections:
    /^\d+ readings?\. Moves to make \(corrections, not errors found\)|moves to make, along its own axes/m,
  references: /^References, substrate frame:\n(?<lines>(?: {2}.*\n)+)/m,
  part: /^Part, along its own axes, rotated about its own origin:\n(?<lines>(?: {2}.*\n)+)/m,
  transferred:
    /^Part: moves to make, along its own axes, rotated about its own origin, .*:\n(?<lines>(?: {2}.*\n)+)/m,
  screws: /^Screws, in turns:\s(?<lines>(?:.*\n)+)/m,
  reference: new RegExp(`^ {2}(?<id>${NAME}) +(?<rest>\\S.*)$`, 'gm'),
  /** One degree of freedom: the move to make, its standard uncertainty of the readings and with all of the budget. */
  degree: new RegExp(
    `(?<degree>r?[xyz]) (?<value>[+−]?${NUMBER})(?: ± (?<sigma>${NUMBER}) \\((?<all>${NUMBER})\\))? (?<unit>µm|µrad)`,
    'g',
  ),
  notSeen: /\[unobserved (?<what>.*)\]/,
  screw: new RegExp(
    `(?<id>${NAME}) +(?<turns>[+−]?${NUMBER})(?: ± (?<sigma>${NUMBER})(?: \\((?<all>${NUMBER})\\))?)?(?= {2}|\\n)`,
    'g',
  ),
  left: /not achievable with the screws: (?<moves>.*)/,
  candidate: new RegExp(`if (?<patch>${NAME}) is (?<sign>[+−]): (?<moves>.*)`, 'g'),
  trial: /trial move to tell them apart: (?<moves>.*)/,
  expected: new RegExp(
    `(?<patch>${NAME}) then shows (?<plus>${NUMBER}) if it was \\+, (?<minus>${NUMBER}) if it was −`,
  ),
  /** Of a point of the tracker, along the substrate's axes. */
  residual: new RegExp(
    `^ {2}(?<point>[\\w@-]+) {2}(?<x>[+−]?${NUMBER}) {2}(?<y>[+−]?${NUMBER}) {2}(?<z>[+−]?${NUMBER})(?<outlying> {3}does not fit)?$`,
    'gm',
  ),
} as const;

export interface SaidMove {
  readonly value: number;
  readonly sigma: number;
  readonly unit: string;
}

/** The moves of a line by their degrees, µm or µrad. */
export const movesSaid = (words: string): ReadonlyMap<string, SaidMove> =>
  new Map(
    [...words.matchAll(MOVES.degree)].map(({ groups }) => [
      groups!.degree!,
      {
        value: numberOf(groups!.value!.replace('+', '')),
        sigma: numberOf(groups!.sigma ?? 'NaN'),
        unit: groups!.unit!,
      },
    ]),
  );
