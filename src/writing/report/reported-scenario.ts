/**
 * What a report says of the scenario it was made from: parameters and datums as they came out, and the rest of the input, so that
 * two reports tell what changed between them. Units as the keys say; a parameter names its own.
 */
import type { Design } from '../../design/design.ts';
import { etchDepth } from '../../design/grooves.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { DEG_PER_RAD, MW_PER_W, NM_PER_MM, UM_PER_MM } from '../../quantity/conversion.ts';
import type { Datum } from '../../scenario/datum.ts';
import type { Parameter, Tone } from '../../scenario/scenario.ts';

export interface ReportedScenario {
  readonly parameters: readonly ReportedParameter[];
  /** By id, in the part frame. */
  readonly datums: Readonly<Record<string, ReportedDatum>>;
  readonly input: ReportedInput;
}

interface ReportedDatum {
  readonly kind: Datum['kind'];
  readonly point_mm?: Vec3;
  readonly apex_mm?: Vec3;
  readonly centre_mm?: Vec3;
  readonly normal?: Vec3;
  readonly axis?: Vec3;
  readonly diameter_mm?: number;
  readonly tube_mm?: number;
  readonly angle_deg?: number;
  readonly side?: 'outside' | 'inside';
}

interface ReportedInput {
  readonly light:
    | { readonly wavelength_nm: number }
    | {
        readonly vacuumWavelength_nm: number;
        readonly air: {
          readonly temperature_degC: number;
          readonly pressure_Pa: number;
          readonly humidity: number;
        };
      };
  readonly interferometer: {
    readonly beam: 'diverging' | 'converging' | 'collimated';
    /** Of a collimated beam. */
    readonly direction?: Vec3;
    readonly beamDiameter_mm?: number | null;
    /** Of a spherical one. */
    readonly focus_mm?: Vec3;
    readonly fNumber?: number | null;
    readonly pixelsAcrossBeam: number;
    readonly readable_fringes: number;
    readonly laserPower_mW: number | null;
  };
  readonly substrate: {
    readonly patternFaces: 'part' | 'interferometer';
    readonly thickness_mm: number;
    readonly edgeMargin_mm: number;
    readonly clearance_mm: number;
  };
  readonly process: {
    readonly kind: 'etched' | 'chrome';
    readonly minFeature_um: number;
    readonly dutyCycle: number;
    readonly placement_um: number;
    readonly tone: Tone;
    readonly etchDepth_nm: number | null;
    readonly etchTolerance_nm: number | null;
    readonly writerMirrorsData: boolean;
  };
  readonly part: { readonly origin_mm: Vec3; readonly rotation_deg: readonly number[] };
}

export function reportedScenario(design: Design): ReportedScenario {
  const { scenario } = design;
  return {
    parameters: scenario.parameters.map(reportedParameter),
    datums: Object.fromEntries(scenario.part.datums.map((datum) => [datum.id, reportedDatum(datum)])),
    input: reportedInput(design),
  };
}

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

function reportedDatum(datum: Datum): ReportedDatum {
  switch (datum.kind) {
    case 'plane':
      return { kind: datum.kind, point_mm: datum.point, normal: datum.normal };
    case 'cylinder':
      return {
        kind: datum.kind,
        point_mm: datum.point,
        axis: datum.axis,
        diameter_mm: datum.diameter,
        side: datum.side,
      };
    case 'cone':
      return {
        kind: datum.kind,
        apex_mm: datum.apex,
        axis: datum.axis,
        angle_deg: datum.angle * DEG_PER_RAD,
        side: datum.side,
      };
    case 'sphere':
      return { kind: datum.kind, centre_mm: datum.centre, diameter_mm: datum.diameter, side: datum.side };
    case 'torus':
      return {
        kind: datum.kind,
        centre_mm: datum.centre,
        axis: datum.axis,
        diameter_mm: datum.diameter,
        tube_mm: datum.tube,
        side: datum.side,
      };
    case 'point':
      return { kind: datum.kind, point_mm: datum.point };
    case 'vee':
      return {
        kind: datum.kind,
        point_mm: datum.point,
        axis: datum.axis,
        normal: datum.normal,
        angle_deg: datum.angle * DEG_PER_RAD,
      };
  }
}

function reportedInput(design: Design): ReportedInput {
  const { interferometer, substrate, process, part, light } = design.scenario;
  const inNm = (length: number | undefined) => (length === undefined ? null : length * NM_PER_MM);
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
    interferometer: {
      beam: interferometer.beam.kind,
      ...(interferometer.beam.kind === 'collimated'
        ? { direction: interferometer.beam.direction, beamDiameter_mm: interferometer.beamDiameter ?? null }
        : { focus_mm: interferometer.beam.focus, fNumber: interferometer.fNumber ?? null }),
      pixelsAcrossBeam: interferometer.pixelsAcrossBeam,
      readable_fringes: interferometer.readable,
      laserPower_mW: interferometer.laserPower === undefined ? null : interferometer.laserPower * MW_PER_W,
    },
    substrate: {
      patternFaces: substrate.patternFaces,
      thickness_mm: substrate.thickness,
      edgeMargin_mm: substrate.edgeMargin,
      clearance_mm: substrate.clearance,
    },
    process: {
      kind: process.kind,
      minFeature_um: process.minFeature * UM_PER_MM,
      dutyCycle: process.dutyCycle,
      placement_um: process.placement * UM_PER_MM,
      tone: process.tone,
      etchDepth_nm: inNm(etchDepth(design)),
      etchTolerance_nm: inNm(process.etchTolerance),
      writerMirrorsData: substrate.patternFaces === 'interferometer',
    },
    part: { origin_mm: part.frame.origin, rotation_deg: part.rotation.map((angle) => angle * DEG_PER_RAD) },
  };
}
