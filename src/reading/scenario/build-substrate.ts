/** Substrate, keep-outs, the seats on the glass (balls and nests of SMRs) and the fabrication process. mm. */
import {
  type KeepOut,
  type Process,
  type Seat,
  type Substrate,
  TONES,
  type Tone,
} from '../../scenario/scenario.ts';
import { assemble, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, listById } from '../yaml/identifiers.ts';
import {
  type Limits,
  length,
  NOT_NEGATIVE,
  POSITIVE,
  point2,
  quantitiesGiven,
  quantity,
  word,
} from '../yaml/values.ts';
import { buildOutline } from './build-outline.ts';

/** From no glass at all to beyond germanium. */
const INDICES: Limits = { atLeast: 1, atMost: 5 };
const DUTY_CYCLES: Limits = { moreThan: 0, lessThan: 1 };
/** mm: a coordinate measuring machine in a good room, no source beyond the trade. */
const MEASURED_TO = 0.002;
/** A height written as half the diameter in another unit may come out a rounding below it, as a part of it. */
const ROUNDING = 1e-12;

export function buildSubstrate(field: Field): Read<Substrate> {
  const tolerance = field.get('tolerance');
  const thickness = quantity(field.get('thickness'), 'length', NOT_NEGATIVE, 0);
  return assemble({
    outline: buildOutline(field.get('outline'), [0, 0]),
    thickness,
    material: buildMaterial(field, thickness),
    patternFaces: word(field.get('patternFaces'), ['part', 'interferometer'], 'part'),
    tolerance: assemble<NonNullable<Substrate['tolerance']>>({
      ...quantitiesGiven(tolerance, ['thickness'], 'length', NOT_NEGATIVE),
      ...quantitiesGiven(tolerance, ['index', 'wavefront'], 'number', NOT_NEGATIVE),
      ...quantitiesGiven(tolerance, ['wedge'], 'angle', NOT_NEGATIVE),
    }),
    edgeMargin: quantity(field.get('edgeMargin'), 'length', NOT_NEGATIVE, 0),
    clearance: quantity(field.get('clearance'), 'length', NOT_NEGATIVE, 0),
  });
}

function buildMaterial(field: Field, thickness: Read<number>): Read<Substrate['material']> {
  const [glass, index] = [field.get('glass'), field.get('index')];
  const given = quantity(index, 'number', INDICES, undefined);
  if (glass.present && index.present) {
    return index.report(
      'conflicting-keys',
      '`glass` and `index` both give the refractive index',
      'keep one of them',
    );
  }
  // Whether the name is one of the table the schema has said.
  if (glass.present) return typeof glass.value === 'string' ? { glass: glass.value } : FAULTY;
  if (given === FAULTY) return FAULTY;
  if (given !== undefined) return { index: given };
  const misspelled = ['glass', 'index'].some((key) => field.reading.misspelled(field.path, key));
  if (thickness === FAULTY || misspelled) return FAULTY;
  if (thickness === 0) return { index: 1 };
  return field.report(
    'missing-key',
    `the substrate is ${thickness} mm thick but has no material`,
    'add `glass` or `index`',
  );
}

export const buildKeepOuts = (list: Field): Read<readonly KeepOut[]> =>
  listById(list, (item) =>
    assemble<KeepOut>({
      id: identifier(item.get('id')),
      outline: buildOutline(item.get('outline'), [0, 0]),
      pattern: item.get('pattern').value === true,
    }),
  );

export const buildSeats = (list: Field): Read<readonly Seat[]> => listById(list, buildSeat);

function buildSeat(field: Field): Read<Seat> {
  const diameter = length(field.get('diameter'), POSITIVE);
  const known = diameter === FAULTY ? undefined : diameter;
  const heights: Limits = known === undefined ? POSITIVE : { atLeast: (known / 2) * (1 - ROUNDING) };
  return assemble<Seat>({
    id: identifier(field.get('id')),
    kind: word(field.get('kind'), ['ball', 'nest']),
    diameter,
    at: point2(field.get('at')),
    face: word(field.get('face'), ['part', 'interferometer'], 'part'),
    height: quantity(field.get('height'), 'length', heights, (known ?? 0) / 2),
    footprint: quantity(field.get('footprint'), 'length', POSITIVE, known ?? 0),
    uncertainty: quantity(field.get('uncertainty'), 'length', POSITIVE, MEASURED_TO),
  });
}

export function buildProcess(field: Field): Read<Process> {
  const kind = word(field.get('kind'), ['etched', 'chrome'], 'etched');
  return assemble({
    kind,
    minFeature: quantity(field.get('minFeature'), 'length', POSITIVE, 1e-3),
    dutyCycle: quantity(field.get('dutyCycle'), 'number', DUTY_CYCLES, 0.5),
    placement: quantity(field.get('placement'), 'length', NOT_NEGATIVE, 1e-4),
    positionToEdge: stated(field.get('positionToEdge')),
    tone: kind === FAULTY ? FAULTY : buildTone(field.get('tone'), kind),
    etchDepth: etchLength(field.get('etchDepth'), kind, POSITIVE),
    etchTolerance: etchLength(field.get('etchTolerance'), kind, NOT_NEGATIVE),
    opticalDensity: buildDensity(field.get('opticalDensity'), kind),
    widthTolerance: quantity(field.get('widthTolerance'), 'length', NOT_NEGATIVE, undefined),
    placementStated: field.get('placement').present,
  });
}

const stated = (field: Field): Read<number | undefined> =>
  field.present ? quantity(field, 'length', POSITIVE) : undefined;

function buildTone(field: Field, kind: Process['kind']): Read<Tone> {
  const tones: readonly Tone[] = TONES[kind];
  const tone = word<Tone>(field, [...TONES.etched, ...TONES.chrome], tones[0]!);
  if (tone === FAULTY || tones.includes(tone)) return tone;
  return field.report(
    'conflicting-keys',
    `\`tone: ${tone}\` does not fit \`kind: ${kind}\``,
    `write ${tones.map((own) => `\`${own}\``).join(' or ')}, or change \`kind\``,
  );
}

/** An etched pattern has no chrome. */
function buildDensity(field: Field, kind: Read<Process['kind']>): Read<number | undefined> {
  if (kind === 'etched' && field.present)
    return field.report(
      'conflicting-keys',
      'an etched pattern has no optical density',
      'remove the key, or set `kind: chrome`',
    );
  return quantity(field, 'number', POSITIVE, undefined);
}

/** A chrome pattern has no depth to etch. */
function etchLength(field: Field, kind: Read<Process['kind']>, limits: Limits): Read<number | undefined> {
  if (kind === 'chrome' && field.present)
    return field.report(
      'conflicting-keys',
      'a chrome pattern has no etch depth',
      'remove the key, or set `kind: etched`',
    );
  return quantity(field, 'length', limits, undefined);
}
