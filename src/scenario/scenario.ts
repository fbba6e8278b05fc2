/**
 * The Scenario: everything a scenario file says, typed and frozen, in mm, radians and waves, places where they stand.
 * It knows no YAML and no light; `reading/` makes it, `design/` computes from it.
 */
import type { Frame } from '../geometry/frame.ts';
import type { Outline } from '../geometry/outline.ts';
import type { Vec2, Vec3 } from '../geometry/vector.ts';
import type { Focus } from '../kinds/kind.ts';
import type { ReferenceByKind } from '../kinds/kinds.ts';
import type { Dimension } from '../quantity/dimension.ts';
import type { Datum, Touch } from './datum.ts';
import type { DrawingWish } from './drawing-wish.ts';
import type { MarkWishes } from './marks.ts';
import type { Solid } from './solid.ts';
import type { Sweep } from './sweep.ts';

export interface Scenario {
  /** Empty where the file gives none. */
  readonly title: string;
  readonly parameters: readonly Parameter[];
  readonly light: Light;
  readonly interferometer: Interferometer;
  readonly substrate: Substrate;
  readonly keepOuts: readonly KeepOut[];
  /** Empty where the file has none. */
  readonly seats: readonly Seat[];
  readonly process: Process;
  readonly part: Part;
  /** Mounts and clamps that stand on the bench. Empty where the file has none. */
  readonly obstacles: readonly Obstacle[];
  readonly references: readonly Reference[];
  readonly patches: readonly Patch[];
  /** Undefined where the file says nothing of the surface under test. */
  readonly test?: NullTest;
  readonly measurements: readonly Measurement[];
  readonly wanted: Wanted;
  /** Empty where the file describes none. */
  readonly stage: readonly StageAxis[];
  /** What a batch varies; a command for one scenario takes the parameters as they stand. */
  readonly sweep?: Sweep;
  /** What the drawing's title block and sheet are to be; all of it may be left open. */
  readonly drawing?: DrawingWish;
  /** What is written beside the patterns; undefined where the file asks for no marks. */
  readonly marks?: MarkWishes;
}

export interface Parameter {
  readonly name: string;
  /** mm, radians, °C, Pa, W or a bare number by `dimension`; `other`: a product of these, such as an area in mm². */
  readonly value: number;
  readonly dimension: Dimension | 'other';
}

/** Light by its wavelength in air, or by its vacuum wavelength and the air it travels in. */
export type Light = (
  | { readonly given: 'air'; readonly wavelength: number }
  | { readonly given: 'vacuum'; readonly vacuumWavelength: number; readonly air: Air }
) & {
  /** Standard uncertainties of the wavelength as given, mm, and of the air pressure at the site, Pa. */
  readonly uncertainty?: Given<'wavelength' | 'pressure'>;
};

export interface Air {
  /** °C */
  readonly temperature: number;
  /** Pa */
  readonly pressure: number;
  /** Relative, 0 to 1. */
  readonly humidity: number;
}

export interface Interferometer {
  readonly beam: Beam;
  /** Undefined: the beam is taken to fill the substrate. */
  readonly fNumber: number | undefined;
  /** Of a collimated beam, mm; without meaning for another. */
  readonly beamDiameter: number | undefined;
  readonly pixelsAcrossBeam: number;
  /** Standard uncertainty of one reading, in fringes. */
  readonly readable: number;
  /** Standard uncertainties of the hologram's place against the beam where no return ring reads it, mm and radians. */
  readonly placed?: Given<'x' | 'y' | 'z' | 'rx' | 'ry'>;
  /** Standard uncertainty of the reference wavefront, waves from the centre to the edge of the beam. */
  readonly wavefront?: number;
  /** Of the beam, W: for the laser class. Undefined where the file does not say. */
  readonly laserPower?: number;
}

/** Standard uncertainties; common practice holds for those that are not given. */
type Given<Key extends string> = { readonly [key in Key]?: number };

/** A spherical wave by its centre in air without the substrate (z < 0 diverging, z > 0 converging), or a plane wave. */
export type Beam =
  | { readonly kind: 'diverging' | 'converging'; readonly focus: Vec3 }
  | { readonly kind: 'collimated'; readonly direction: Vec3 };

export interface Substrate {
  readonly outline: Outline;
  /** 0 means no glass in the way. */
  readonly thickness: number;
  readonly material: { readonly glass: string } | { readonly index: number };
  readonly patternFaces: 'part' | 'interferometer';
  /** Standard uncertainties of the blank: mm, radians, and waves from its centre to the edge of the beam. */
  readonly tolerance?: Given<'thickness' | 'index' | 'wedge' | 'wavefront'>;
  readonly edgeMargin: number;
  /** Least gap between any two patterns. */
  readonly clearance: number;
}

export interface KeepOut {
  readonly id: string;
  readonly outline: Outline;
  /** Whether it holds a pattern with light of its own, whose undiffracted order may meet a reference. */
  readonly pattern: boolean;
}

/** A ball, or a nest for an SMR, bonded to the glass: for a coordinate measuring machine or a tracker. */
export interface Seat {
  readonly id: string;
  readonly kind: 'ball' | 'nest';
  /** Of the ball, or of the SMR's sphere in the nest. */
  readonly diameter: number;
  readonly at: Vec2;
  /** The face of the substrate that it stands on. */
  readonly face: 'part' | 'interferometer';
  /** Of the sphere's centre above that face. */
  readonly height: number;
  /** Diameter of what touches the glass: the cement, or the nest's base. */
  readonly footprint: number;
  /** Standard uncertainty of the sphere's centre as measured against the pattern, along each axis. */
  readonly uncertainty: number;
}

export interface Process {
  readonly kind: 'etched' | 'chrome';
  readonly minFeature: number;
  /** Written width over period, 0 to 1. */
  readonly dutyCycle: number;
  /** Standard uncertainty of the pattern's placement. */
  readonly placement: number;
  /** Diameter of the zone of each pattern's centre, placed by the datums on the substrate's edge; undefined: none is stated. */
  readonly positionToEdge?: number | undefined;
  /** What the written areas become. */
  readonly tone: Tone;
  /** Depth of the written areas, mm; undefined: half a wave of phase. Without meaning for chrome, as its tolerance (plus or minus). */
  readonly etchDepth: number | undefined;
  readonly etchTolerance: number | undefined;
  /** Of the opaque areas of a chrome pattern at the wavelength of use: T = 10^−density. Undefined: not stated, taken as dark. */
  readonly opticalDensity: number | undefined;
  /** Tolerance of the width of a written line, plus or minus, mm. */
  readonly widthTolerance: number | undefined;
  /** Whether the scenario gives `placement`, or it is the program's default: what nobody stated is no limit to accept by. */
  readonly placementStated: boolean;
}

export const TONES = {
  etched: ['written is etched'],
  chrome: ['written is clear', 'written is opaque'],
} as const;
export type Tone = (typeof TONES)[keyof typeof TONES][number];

export interface Part {
  /** The part frame in the substrate frame. */
  readonly frame: Frame;
  /** The intrinsic x-y-z angles that `frame.rotation` was made from. */
  readonly rotation: Vec3;
  /** In the order of the file; places in the part frame. */
  readonly datums: readonly Datum[];
  readonly envelope: readonly Solid[];
}

/** Something fixed to the bench, by its solids in the substrate frame. */
export interface Obstacle {
  readonly id: string;
  readonly solids: readonly Solid[];
}

/** The null test that the patches serve. */
export interface NullTest {
  /** The id of a datum: an asphere, a sphere, a plane, a cone or a torus. */
  readonly surface: string;
  /** On the surface, in its own x and y. */
  readonly aperture: Outline;
  /** Working order: a whole number, not 0. */
  readonly order: number;
  /** Of pattern beyond the light's footprint. */
  readonly margin: number;
  /** Rms height error of the surface that misalignment may leave; undefined where the file does not say. */
  readonly figure: number | undefined;
  readonly removed: readonly RemovedTerm[];
  /** Standard uncertainties of the surface's own terms against its datums: rms of height, mm. */
  readonly ownFigure?: Given<FigureTerm>;
  /** Marks on the surface. Empty where the file has none. */
  readonly fiducials: readonly Fiducial[];
}

export interface Fiducial {
  readonly id: string;
  /** In the surface's own x and y. */
  readonly at: Vec2;
}

/** What an evaluation takes out of a figure, each by name: the Zernike terms of its kind. */
export const REMOVED_TERMS = ['piston', 'tilt', 'power', 'astigmatism', 'coma', 'spherical'] as const;
export type RemovedTerm = (typeof REMOVED_TERMS)[number];
/** Those that fringes show. */
export type FigureTerm = Exclude<RemovedTerm, 'piston'>;
export const figureTerms = REMOVED_TERMS.filter((term) => term !== 'piston');
/** In how many parts each comes: along x and y, or at 0° and 45°; 1 for a round one. */
export const FIGURE_TERMS: Readonly<Record<FigureTerm, 1 | 2>> = {
  tilt: 2,
  power: 1,
  astigmatism: 2,
  coma: 2,
  spherical: 1,
};

/** The id of the null test's own pattern. */
export const MAIN = 'main';

/** Told apart by `kind`: what each has of its own, its file in src/kinds says. */
export type Reference = ReferenceByKind & {
  /** Empty unless its place was given by touches. */
  readonly touches: readonly Touch[];
};

export interface Patch {
  readonly id: string;
  readonly reference: string;
  /** `return`: back to the interferometer; `normal`: at normal incidence on the reference's datum feature. */
  readonly focus: Focus;
  readonly centre: Vec2;
  /** In the substrate frame, the centre added. */
  readonly outline: Outline;
  /** Of the line in the pattern plane; undefined for a point focus. */
  readonly lineAngle: number | undefined;
  /** Working order: a whole number, not 0. */
  readonly order: number;
  readonly bias: BiasWish | undefined;
}

/** Fringes wanted on the camera at the design place. */
export interface BiasWish {
  readonly shape: 'roof' | 'tilt';
  readonly fringes: number;
  /** In the pattern plane; undefined: along the line of a line focus, along +x for a point focus. */
  readonly direction: number | undefined;
}

/** A distance measured otherwise than by fringes: along `direction` at a reference, with its standard uncertainty. */
export interface Measurement {
  readonly id: string;
  readonly reference: string;
  /** Unit vector in the substrate frame. */
  readonly direction: Vec3;
  readonly uncertainty: number;
}

/** Wished standard uncertainties: mm for x, y, z; radians for rx, ry, rz. */
export type Degree = 'x' | 'y' | 'z' | 'rx' | 'ry' | 'rz';
export const DEGREES: readonly Degree[] = ['x', 'y', 'z', 'rx', 'ry', 'rz'];
export type Wanted = { readonly [degree in Degree]?: number };
/** The degrees that an accuracy is wished for. */
export const wishedDegrees = (wanted: Wanted): readonly Degree[] =>
  DEGREES.filter((degree) => wanted[degree] !== undefined);
/** Whether a scenario says how well the part is to be known: by degrees, or by what misalignment may leave in its figure. */
export const asksAccuracy = ({ wanted, test }: Scenario): boolean =>
  wishedDegrees(wanted).length > 0 || test?.figure !== undefined;

/**
 * One screw of the stage that carries the part: what a whole positive turn does. Part frame. A turning one is right-handed
 * about the axis along `direction` through `through`.
 */
export interface StageAxis {
  readonly id: string;
  readonly kind: 'moves' | 'turns';
  readonly direction: Vec3;
  /** A point on the axis of a turning one; without meaning for a moving one. */
  readonly through: Vec3;
  /** mm or radians. */
  readonly perTurn: number;
}
