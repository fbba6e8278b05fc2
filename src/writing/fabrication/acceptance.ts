/**
 * Acceptance on arrival: what is measured, at how many places, against which limit. A limit comes from what the scenario states; where it
 * states nothing the row says so. From a standard uncertainty the limit is what the budget counts on (fabricator-limits.ts).
 */
import { type Design, patternsOf } from '../../design/design.ts';
import { efficiencyOf, etchDepth } from '../../design/grooves.ts';
import { periodRange } from '../../design/period-range.ts';
import { insideMargin } from '../../geometry/clearance.ts';
import { COVERAGE } from '../../metrology/budget/coverage.ts';
import {
  blankCountedOn,
  type CountedOn,
  limitOf,
  placementCountedOn,
} from '../../metrology/budget/fabricator-limits.ts';
import { NM_PER_MM, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { roundedDown, trimmed } from '../../quantity/format.ts';
import { place, significant } from '../page/figures.ts';
import { NOT_STATED } from '../written-areas.ts';
import { type Block, heading, paragraph, type Row } from './blocks.ts';
import { barWidths } from './marks.ts';

/** As rows say that a limit is a multiple of a standard uncertainty. */
const TWICE = `${COVERAGE}u`;

const HEADS = ['Check', 'Measure', 'Places', 'Limit'] as const;

export const acceptance = (design: Design): readonly Block[] => [
  heading('Acceptance on arrival'),
  paragraph(
    `Limits come from the design. “${TWICE}” marks a limit of ${COVERAGE} times a standard uncertainty u that the design’s budget counts with. Numbers of places are a proposal (common practice, no source).`,
  ),
  {
    is: 'table',
    heads: HEADS,
    rows: checks(design).map((row) => row.map(withUnits)),
  },
];

const checks = (design: Design): readonly Row[] => [
  ...blankRows(design),
  mirroring(design),
  tone(design),
  width(design),
  design.scenario.process.kind === 'etched' ? depth(design) : density(design),
  placement(design),
  toEdge(design),
  [
    'Imperfections',
    'Scratches, digs, pinholes, residues in the patterns (ISO 10110-7)',
    'all patterns',
    NOT_STATED,
  ],
];

/** A number stays with its unit. */
const withUnits = (text: string): string =>
  text.replace(/(?<=\d) (?=(%|mm|µm|nm|µrad|waves)(?!\p{L}))|(?<=\bu) (?==)|(?<=\bu =) /gu, '\u00a0');

/** Of more patterns than this, so many are measured. */
const MOST_MEASURED = 25;

const inPatterns = (each: number, count: number): string =>
  count > MOST_MEASURED
    ? `${each} in ${MOST_MEASURED} patterns, spread over the glass: ${each * MOST_MEASURED}`
    : `${each} in each pattern: ${each * count}`;

function mirroring({ scenario }: Design): Row {
  const away = scenario.substrate.patternFaces === 'interferometer';
  return [
    'Mirroring',
    `Seen from the part side${away ? ', through the glass,' : ''} the patterns lie as in layout.pdf. Seen on the patterned surface they lie ${away ? 'mirrored, x to −x' : 'the same way'}`,
    '1 look at the whole',
    'none mirrored, none turned',
  ];
}

const BECAME = {
  'written is etched': 'written lines are lower than the spaces and than the glass beside the pattern',
  'written is clear': 'written lines are clear; spaces and the glass beside the pattern are opaque',
  'written is opaque': 'written lines are opaque; spaces and the glass beside the pattern are clear',
} as const;

const tone = (design: Design): Row => [
  'Tone',
  `A microscope shows: ${BECAME[design.scenario.process.tone]}`,
  inPatterns(1, patternsOf(design).length),
  'as said',
];

function width(design: Design): Row {
  const { process } = design.scenario;
  const patterns = patternsOf(design).map(({ pattern }) => pattern);
  const least = Math.min(...patterns.map((pattern) => periodRange(pattern).min));
  const { widthTolerance, dutyCycle } = process;
  const off = widthTolerance === undefined ? GUIDE_DUTY : widthTolerance / least;
  const worst = Math.min(
    ...patterns.flatMap(({ order }) => [off, -off].map((by) => kept(design, order, by))),
  );
  const guide = Number.isFinite(least)
    ? `${widthTolerance === undefined ? `A line ${trimmed(100 * GUIDE_DUTY, 0)} % of the period off` : 'At the limit the narrowest period'} leaves a working order ${percent(worst)} of its light`
    : '';
  const bars = barWidths(design);
  return [
    'Line width (CD)',
    `Width of a written line, and the period, at the place of the narrowest line and at the centre of each pattern${bars === undefined ? '' : `; lines of the bars along x and along y: line/space ${bars}`}`,
    `${inPatterns(1, patterns.length)}, 1 at the narrowest${bars === undefined ? '' : ', and 2 in each row of the bars'}`,
    widthTolerance === undefined
      ? `${NOT_STATED}. ${guide}`
      : `${trimmed(dutyCycle, 6)} × period ± ${nm(widthTolerance)}. ${guide}`,
  ];
}

/** For a reader to judge by where no tolerance is stated: of the period, and of the depth. */
const GUIDE_DUTY = 0.05;
const GUIDE_DEPTH = 0.05;

/** Share of its light that an order keeps where the duty cycle is off. */
function kept(design: Design, order: number, off: number): number {
  const { process } = design.scenario;
  const dutyCycle = Math.min(1, Math.max(0, process.dutyCycle + off));
  return share(design, { ...process, dutyCycle }, order);
}

/** An order that has no light as designed, but for rounding, loses none. */
const NO_LIGHT = 1e-9;

function share(design: Design, process: Design['scenario']['process'], order: number): number {
  const designed = efficiencyOf(design, order);
  return designed < NO_LIGHT ? 1 : efficiencyOf(withProcess(design, process), order) / designed;
}

const withProcess = (design: Design, process: Design['scenario']['process']): Design => ({
  ...design,
  scenario: { ...design.scenario, process },
});

function depth(design: Design): Row {
  const { process } = design.scenario;
  const [wanted, tolerance] = [etchDepth(design), process.etchTolerance];
  const limit =
    wanted === undefined
      ? `depth ${NOT_STATED}`
      : tolerance === undefined
        ? `${nm(wanted)}, tolerance ${NOT_STATED}`
        : `${nm(wanted)} ± ${nm(tolerance)}`;
  const off = tolerance ?? GUIDE_DEPTH * (wanted ?? 0);
  const at = (etched: number): number => share(design, { ...process, etchDepth: etched }, 1);
  const worst = wanted === undefined ? undefined : Math.min(at(wanted - off), at(wanted + off));
  const guide =
    worst === undefined
      ? ''
      : `. ${tolerance === undefined ? `A depth ${trimmed(100 * GUIDE_DEPTH, 0)} % off` : 'The limit'} leaves a working order ${percent(worst)} of its light`;
  return [
    'Depth',
    'Step from an unetched to a written area, with a profiler or an atomic force microscope',
    inPatterns(1, patternsOf(design).length),
    `${limit}${guide}`,
  ];
}

function density({ scenario, light }: Design): Row {
  const { opticalDensity } = scenario.process;
  const at = `${trimmed(light.wavelength * NM_PER_MM, 4)} nm`;
  return [
    'Optical density',
    `Transmittance of an opaque area at ${at}`,
    '3, spread over the glass',
    opticalDensity === undefined ? NOT_STATED : `${trimmed(opticalDensity, 3)} or more`,
  ];
}

function placement(design: Design): Row {
  const counted = placementCountedOn(design);
  const count = patternsOf(design).length;
  const limit = limitOf(counted) * UM_PER_MM;
  return [
    'Placement',
    'Places of pattern lines or outlines against the design, each pattern against all others and within itself; a shift and a turn of the whole may be taken out, a scale may not',
    `near the outline, ${inPatterns(4, count)}`,
    counted.stated
      ? `${trimmed(limit, 6)} µm or less off in any direction (${TWICE}): a zone of Ø${trimmed(2 * limit, 6)} µm`
      : `${NOT_STATED}. The budget counts with u = ${trimmed(counted.u * UM_PER_MM, 6)} µm, the program’s default`,
  ];
}

function toEdge(design: Design): Row {
  const { outline, edgeMargin } = design.scenario.substrate;
  const { positionToEdge } = design.scenario.process;
  const spare = Math.min(
    ...patternsOf(design).map(({ pattern }) => insideMargin(outline, pattern.outline) - edgeMargin),
  );
  const room =
    spare > 0 && Number.isFinite(spare)
      ? `the patterns keep the edge margin of ${place(edgeMargin)} mm while they lie less than ${trimmed(roundedDown(spare, 3), 3)} mm off`
      : `a pattern has no room to spare beyond the edge margin of ${place(edgeMargin)} mm`;
  return [
    'Pattern to edge',
    outline.shape === 'circle'
      ? 'Origin of the patterns against the axis of the round edge'
      : 'Origin and axes of the patterns against the edges that the drawing names',
    '4 round the edge',
    positionToEdge === undefined
      ? `${NOT_STATED}; ${room}`
      : `${trimmed(positionToEdge / 2, 6)} mm or less off in any direction: a zone of Ø${trimmed(positionToEdge, 6)} mm, as the drawing has it`,
  ];
}

/** What is stated for the blank; light that crosses no glass asks for nothing. */
function blankRows(design: Design): readonly Row[] {
  const { glass, light } = design;
  if (glass.thickness === 0)
    return [
      ['Blank: transmitted wavefront', 'Light crosses no glass of this hologram', '–', 'no limit needed'],
    ];
  const counted = blankCountedOn(design);
  const limit = (of: CountedOn, scale: number, unit: string): string =>
    of.stated
      ? `±${significant(limitOf(of) * scale)}${unit} (${TWICE})`
      : `${NOT_STATED}. The budget counts with u = ${significant(of.u * scale)}${unit}, common practice`;
  const { diameter, share } = measuredDisc(design);
  return [
    [
      'Blank: transmitted wavefront',
      `Power, astigmatism and astigmatism at 45° of the wavefront through the glass once, each from the centre to the edge of Ø ${place(diameter)} mm, at ${trimmed(light.wavelength * NM_PER_MM, 4)} nm, before the pattern is written`,
      '1 map, sent with the hologram',
      limit(counted.wavefront, share, ' waves'),
    ],
    [
      'Blank: wedge',
      'Angle between the faces, along x and along y each',
      '1',
      limit(counted.wedge, URAD_PER_RAD, ' µrad'),
    ],
    [
      'Blank: thickness',
      `Against ${trimmed(glass.thickness, 6)} mm, in the middle`,
      '1',
      limit(counted.thickness, UM_PER_MM, ' µm'),
    ],
    [
      'Blank: index',
      `Melt certificate, against ${trimmed(glass.index, 6)} relative to air`,
      '1',
      limit(counted.index, 1, ''),
    ],
  ];
}

/**
 * The budget counts a wavefront over the lit circle, which may reach past what can be measured of the glass. Power and astigmatism
 * grow with the square of the radius: over a smaller disc a smaller share of them is allowed.
 */
function measuredDisc({ beam, scenario }: Design): { readonly diameter: number; readonly share: number } {
  const { outline, edgeMargin } = scenario.substrate;
  const point = { shape: 'circle', centre: beam.centre, radius: POINT } as const;
  const onGlass = 2 * (insideMargin(outline, point) + POINT - edgeMargin);
  const lit = beam.cameraDiameter;
  const diameter = onGlass > 0 ? Math.min(lit, onGlass) : lit;
  return { diameter, share: (diameter / lit) ** 2 };
}

/** A disc that stands for a point, mm. */
const POINT = 1e-6;

const nm = (length: number): string => `${trimmed(length * NM_PER_MM, 1)} nm`;
const percent = (share: number): string => `${trimmed(100 * share, 1)} %`;
