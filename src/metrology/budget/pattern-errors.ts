/**
 * What an imperfect pattern, laser, air or substrate temperature does to where a patch aims: each changes the leaving wave,
 * and apparent-move.ts says what move of the reference shows the same fringes. Lengths mm; mλΦ is the path that a pattern adds.
 */
import type { Design } from '../../design/design.ts';
import { AIR_RANGES, type AirConditions, airIndex } from '../../optics/air.ts';
import { MAIN } from '../../scenario/scenario.ts';
import type { WaveChange } from '../sensing/apparent-move.ts';
import { normalIncidenceModes } from '../sensing/normal-incidence-modes.ts';
import { sensesOf } from '../sensing/sensitivity.ts';
import { type ErrorModel, type ErrorSource, effectsOn, type Term } from './error-source.ts';
import { placementCountedOn } from './fabricator-limits.ts';
import type { PatternChange } from './null-share.ts';
import { EXPANSION, EXPANSION_UNKNOWN, type Practice } from './practice.ts';
import { readingsBy, shownBy } from './readings.ts';
import { waveError } from './wave-error.ts';

/**
 * Pattern placement ε: the patch displaced as a whole, ΔE = −mλ∇Φ·ε, and its edges against each other, a wavefront error of
 * mε/S waves across it (S the period at its centre), each for each patch by itself. The main pattern displaced as a whole moves its null.
 * Y.-C. Chang, J. H. Burge, Proc. SPIE 3782, 358 (1999), from memory.
 */
export const patternPlacement: ErrorModel = (design, readings) => {
  const { u: placement } = placementCountedOn(design);
  const numbersOf = readingsBy(readings, ({ from }) => from?.patch);
  const { main } = design;
  const ofMain = AXES_ON_GLASS.map((axis, k): ErrorSource => {
    const change: PatternChange = (x, y, pattern) =>
      pattern === main ? -main.order * design.light.wavelength * main.phase.gradient(x, y)[k]! : 0;
    return {
      ...{ term: 'pattern placement', name: `${MAIN} ${axis}`, u: placement, distribution: 'normal' },
      ...waveError(design, readings, change),
    };
  });
  const ofPatches = design.patches.flatMap((patch): ErrorSource[] => {
    const numbers = numbersOf.get(patch) ?? [];
    const path = patch.order * design.light.wavelength;
    const shared = { term: 'pattern placement', u: placement, distribution: 'normal' } as const;
    const whole = AXES_ON_GLASS.map((axis, k): ErrorSource => {
      const change: WaveChange = (x, y) => -path * patch.phase.gradient(x, y)[k]!;
      return {
        ...shared,
        name: `${patch.id} ${axis}`,
        effects: effectsOn(numbers, (number) => shownBy(design, readings[number]!, change)),
      };
    });
    const wavesPerMm = Math.abs(patch.order) / patch.phase.period(...patch.phase.zeroAt);
    const read =
      patch.normalIncidence === undefined
        ? sensesOf(design, patch)
        : normalIncidenceModes(design, patch).modes;
    const across = read.map((sense, k): ErrorSource => {
      // Seen twice: mε/S waves of the wave are 2mε/S fringes.
      const effect = (2 * wavesPerMm) / sense.fringesPerMm;
      return {
        ...shared,
        name: `${patch.id} edges, ${'kind' in sense ? sense.kind : 'picture'} ${k + 1}`,
        effects: effectsOn(numbers, (number) => {
          const { from, countedPerMm } = readings[number]!;
          return from!.sense === k && countedPerMm === undefined ? effect : 0;
        }),
      };
    });
    const counted = numbers.flatMap((number): ErrorSource[] => {
      const { name, countedPerMm } = readings[number]!;
      if (countedPerMm === undefined) return [];
      const effect = (2 * wavesPerMm) / countedPerMm;
      return [{ ...shared, name: `${name}, edges`, effects: { at: [number], by: [effect] } }];
    });
    return [...whole, ...across, ...counted];
  });
  return main === undefined ? ofPatches : [...ofPatches, ...ofMain];
};

const AXES_ON_GLASS = ['x', 'y'] as const;

/**
 * A wavelength off by the part κ adds κmλΦ to every patch alike: that of the laser, the one that the scenario gives (in air often a
 * rounded figure or that of vacuum), and by the index of the air over the path and by the pressure at its site.
 */
export const wavelengthErrors: ErrorModel = (design, readings, practice) => {
  const { light } = design.scenario;
  const error = waveError(
    design,
    readings,
    (x, y, { order, phase }) => order * design.light.wavelength * phase.phase(x, y),
  );
  const usual = light.given === 'air' ? practice.wavelengthInAir : 0;
  const stated = light.uncertainty?.wavelength;
  const airPressure = light.uncertainty?.pressure ?? practice.sitePressure;
  const bySite = relativeIndexUncertainty(design, { airTemperature: 0, airPressure, airHumidity: 0 });
  const source = (term: Term, name: string, u: number): ErrorSource => {
    return { term, name, u, distribution: 'normal', ...error };
  };
  return [
    source('laser wavelength', 'vacuum wavelength', practice.laserWavelength),
    source(
      'wavelength as given',
      'wavelength',
      stated === undefined ? usual : stated / design.light.wavelength,
    ),
    source('air index', 'air over the path', relativeIndexUncertainty(design, practice)),
    source('site pressure', 'air pressure', bySite),
  ];
};

/** A warmer hologram is larger, Φ(P/(1 + αΔT)): ΔE = −mλ∇Φ·P αΔT. */
export const glassExpansion: ErrorModel = (design, readings, practice) => {
  const { material } = design.scenario.substrate;
  const expansion = ('glass' in material ? EXPANSION[material.glass] : undefined) ?? EXPANSION_UNKNOWN;
  const error = waveError(design, readings, (x, y, { order, phase }) => {
    const [gx, gy] = phase.gradient(x, y);
    return -order * design.light.wavelength * (gx * x + gy * y);
  });
  const u = expansion * practice.glassTemperature;
  return [{ term: 'glass expansion', name: 'hologram temperature', u, distribution: 'normal', ...error }];
};

/** Relative standard uncertainty of the index of air by its temperature, pressure and humidity. */
export function relativeIndexUncertainty(
  design: Design,
  practice: Pick<Practice, 'airTemperature' | 'airPressure' | 'airHumidity'>,
): number {
  const { light } = design.scenario;
  const air: AirConditions = light.given === 'vacuum' ? light.air : STANDARD_AIR;
  // The index hardly depends on the wavelength: the one in air serves for that in vacuum, and beyond the formula its end.
  const given = light.given === 'vacuum' ? light.vacuumWavelength : light.wavelength;
  const [shortest, longest] = AIR_RANGES.vacuumWavelength;
  const wavelength = Math.min(longest, Math.max(shortest, given));
  const index = (changed: Partial<AirConditions>): number => airIndex(wavelength, { ...air, ...changed });
  const at = index({});
  // Downward where upward leaves the formula's range.
  const stepped = (what: keyof AirConditions, by: number): Partial<AirConditions> => ({
    [what]: air[what] + by <= AIR_RANGES[what][1] ? air[what] + by : air[what] - by,
  });
  const changes = [
    index(stepped('temperature', practice.airTemperature)) - at,
    index(stepped('pressure', practice.airPressure)) - at,
    index(stepped('humidity', practice.airHumidity)) - at,
  ];
  return Math.sqrt(changes.reduce((sum, change) => sum + change * change, 0)) / at;
}

const STANDARD_AIR: AirConditions = { temperature: 20, pressure: 101325, humidity: 0.5 };
