/**
 * What a report says of the scenario it was made from: parameters and datums as they came out, and the rest of the input, so that
 * two reports tell what changed between them. Units as the keys say; a parameter names its own.
 */
import type { Design } from '../../design/design.ts';
import { etchDepth } from '../../design/grooves.ts';
import type { ZernikeTerm } from '../../geometry/polynomial-sag.ts';
import { DEG_PER_RAD, MW_PER_W, NM_PER_MM, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { Datum } from '../../scenario/datum.ts';
import type { Parameter, Tone } from '../../scenario/scenario.ts';

export type ReportedScenario = ReturnType<typeof reportedScenario>;

/** Datums by id, in the part frame. */
export const reportedScenario = (design: Design) => ({
  parameters: design.scenario.parameters.map(reportedParameter),
  datums: Object.fromEntries(design.scenario.part.datums.map((datum) => [datum.id, reportedDatum(datum)])),
  input: reportedInput(design),
});

export interface ReportedParameter {
  readonly name: string;
  readonly value: number;
  /** `mm`, `deg`, `degC`, `Pa`, `W`; empty for a number; for a product of these, the units it is a product of. */
  readonly unit: string;
}

const UNITS: Readonly<Record<Parameter['dimension'], string>> = {
  length: 'mm',
  angle: 'deg',
  temperature: 'degC',
  pressure: 'Pa',
  power: 'W',
  number: '',
  other: 'in mm, rad, K, Pa, W',
};

export const reportedParameter = ({ name, value, dimension }: Parameter): ReportedParameter => ({
  name,
  value: dimension === 'angle' ? value * DEG_PER_RAD : value,
  unit: UNITS[dimension],
});

/** A datum of any kind: what only some kinds have may be missing. */
type AnyDatum = { readonly [Key in KeyOf<Datum>]?: FigureOf<Datum, Key> };
type KeyOf<Each> = Each extends unknown ? keyof Each : never;
type FigureOf<Each, Key> = Each extends unknown ? (Key extends keyof Each ? Each[Key] : never) : never;

function reportedDatum(datum: Datum) {
  const { kind, point, apex, centre, normal, axis, diameter, tube, angle, side }: AnyDatum = datum;
  const { vertex, radius, conic, terms, xy, zernike, grid, faces }: AnyDatum = datum;
  return {
    kind,
    point_mm: point,
    apex_mm: apex,
    centre_mm: centre,
    normal,
    axis,
    diameter_mm: diameter,
    tube_mm: tube,
    angle_deg: angle === undefined ? undefined : angle * DEG_PER_RAD,
    side,
    vertex_mm: vertex,
    radius_mm: radius,
    conic,
    terms,
    xy: xy === undefined || xy.length === 0 ? undefined : xy,
    zernike: zernike && { radius_mm: zernike.radius, terms: zernike.terms.map(reportedZernike) },
    grid: grid && { file: grid.file, spacing_mm: grid.spacing, columns: grid.columns, rows: grid.rows },
    faces,
  };
}

const reportedZernike = ({ n, m, coefficient }: ZernikeTerm) => ({ n, m, rms_nm: coefficient * NM_PER_MM });

/** What all is that is not written. */
const OUTSIDE = {
  'written is etched': 'unetched',
  'written is clear': 'opaque',
  'written is opaque': 'clear',
} as const satisfies Readonly<Record<Tone, string>>;

function reportedInput(design: Design) {
  const { interferometer, substrate, process, part, light } = design.scenario;
  const { placed = {} } = interferometer;
  const { tolerance = {} } = substrate;
  const scaled = (value: number | undefined, scale: number) => (value === undefined ? null : value * scale);
  const inNm = (length: number | undefined) => scaled(length, NM_PER_MM);
  return {
    light:
      light.given === 'air'
        ? { wavelength_nm: light.wavelength * NM_PER_MM }
        : {
            vacuumWavelength_nm: light.vacuumWavelength * NM_PER_MM,
            air: {
              temperature_degC: light.air.temperature,
              pressure_Pa: light.air.pressure,
              humidity: light.air.humidity,
            },
          },
    lightUncertainty: {
      wavelength_nm: inNm(light.uncertainty?.wavelength),
      pressure_Pa: light.uncertainty?.pressure ?? null,
    },
    interferometer: {
      beam: interferometer.beam.kind,
      ...(interferometer.beam.kind === 'collimated'
        ? { direction: interferometer.beam.direction, beamDiameter_mm: interferometer.beamDiameter ?? null }
        : { focus_mm: interferometer.beam.focus, fNumber: interferometer.fNumber ?? null }),
      pixelsAcrossBeam: interferometer.pixelsAcrossBeam,
      readable_fringes: interferometer.readable,
      placed: {
        x_um: scaled(placed.x, UM_PER_MM),
        y_um: scaled(placed.y, UM_PER_MM),
        z_um: scaled(placed.z, UM_PER_MM),
        rx_urad: scaled(placed.rx, URAD_PER_RAD),
        ry_urad: scaled(placed.ry, URAD_PER_RAD),
      },
      wavefront_waves: interferometer.wavefront ?? null,
      laserPower_mW: scaled(interferometer.laserPower, MW_PER_W),
    },
    substrate: {
      patternFaces: substrate.patternFaces,
      thickness_mm: substrate.thickness,
      edgeMargin_mm: substrate.edgeMargin,
      clearance_mm: substrate.clearance,
      tolerance: {
        thickness_um: scaled(tolerance.thickness, UM_PER_MM),
        index: tolerance.index ?? null,
        wedge_urad: scaled(tolerance.wedge, URAD_PER_RAD),
        wavefront_waves: tolerance.wavefront ?? null,
      },
    },
    process: {
      kind: process.kind,
      minFeature_um: process.minFeature * UM_PER_MM,
      dutyCycle: process.dutyCycle,
      placement_um: process.placement * UM_PER_MM,
      positionToEdge_um: scaled(process.positionToEdge, UM_PER_MM),
      tone: process.tone,
      etchDepth_nm: inNm(etchDepth(design)),
      etchTolerance_nm: inNm(process.etchTolerance),
      opticalDensity: process.opticalDensity ?? null,
      widthTolerance_nm: inNm(process.widthTolerance),
      outsidePatches: OUTSIDE[process.tone],
      writerMirrorsData: substrate.patternFaces === 'interferometer',
    },
    part: { origin_mm: part.frame.origin, rotation_deg: part.rotation.map((angle) => angle * DEG_PER_RAD) },
  };
}
