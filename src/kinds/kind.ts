/**
 * What the program has to know of a kind of reference. Each kind's own file answers all of it; kinds.ts lists them, and no other
 * room tells kinds apart by their names. Functions of plain numbers: mm, radians, substrate frame.
 */
import type { Vec2, Vec3 } from '../geometry/vector.ts';
import type { Bias } from '../optics/bias.ts';
import type { CornerCube } from '../optics/corner-cube.ts';
import type { DatumSurface } from '../optics/datum-surface.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import type { TracedReference } from '../optics/round-trip.ts';
import type { AnyReference } from './reference.ts';

export interface Kind<R extends AnyReference = AnyReference, Own = Omit<R, 'kind'>> {
  /** As scenarios write it. */
  readonly kind: R['kind'];
  readonly inScenario: InScenario;
  /**
   * What its fringes tell: `senses`, tilt and power of a focus, as its place; `modes`, pictures all round, as the motion of the
   * part's feature; `alignment`, how the hologram lies to the interferometer. Or no fringes: a `mark` to be seen on a screen.
   */
  readonly read: 'senses' | 'modes' | 'alignment' | 'mark';
  /** Of its surfaces for light that comes back as fringes along `senses`: assumed. */
  readonly reflectance?: number;
  readonly errors?: Errors<Own>;
  readonly planning: Planning<Own>;
  readonly words: KindWords;
  /** Where a patch's light goes, and what that patch senses. */
  aim(reference: Own, patch: AimedPatch, setup: Setup): Aim;
  /** E_out of a point focus where the reference has one, whichever patch it is: a line's light leaves for the same place. */
  leaving(reference: Own, setup: Setup): Eikonal;
  /** How it sends light back; undefined where no light comes back from it. */
  returned(reference: Own, meets: Meets): TracedReference | undefined;
  /** Of the round trip; undefined for what sends nothing back to be read by. */
  fresnelNumber(reference: Own, seen: SeenPatch): FresnelNumber | undefined;
}

export type Focus = 'point' | 'line' | 'return' | 'normal';

/** Keys of a reference that some kinds have no use for. */
type ReferenceKey =
  | ('at' | 'frame' | 'touches' | 'diameter' | 'datum')
  | (typeof CUBE_KEYS | typeof FIT_KEYS)[number];

export interface InScenario {
  /** What a patch may have for its `focus`. */
  readonly foci: readonly Focus[];
  /** Its place comes from `at` or `touches`, from the part's feature that it names, or is none. */
  readonly place: 'given' | 'feature' | 'none';
  /** Keys without meaning, each with the reason. */
  readonly without: Readonly<Partial<Record<ReferenceKey, string>>>;
  /** Why its diameter cannot be left out; undefined where it can. */
  readonly needsDiameter?: string;
  /** Whether a laser tracker's table of points may name it. */
  readonly tracked: boolean;
}

/** The keys, all without meaning for the same reason. */
export const without = (why: string, ...keys: readonly ReferenceKey[]): InScenario['without'] =>
  Object.fromEntries(keys.map((key) => [key, why]));

export const CUBE_KEYS = ['axis', 'roll', 'acceptance', 'centring'] as const;
export const FIT_KEYS = ['form', 'radiusTolerance', 'nest'] as const;

/** What stands around a reference: the beam on the pattern, the glass, and the part's features. */
export interface Setup {
  readonly beam: {
    readonly eikonal: Eikonal;
    /** Undefined for a collimated beam. */
    readonly focus: Vec3 | undefined;
  };
  readonly glass: { readonly thickness: number; readonly index: number; readonly side: 'before' | 'after' };
  /** Throws where the part has no such datum, or one that no light of a patch meets at normal incidence. */
  readonly surfaceOf: (datum: string) => DatumSurface;
}

export interface AimedPatch {
  readonly centre: Vec2;
  /** Undefined for a point focus. */
  readonly lineAngle: number | undefined;
}

export interface Aim {
  /** Ball centre, cube apex or spot; the datum feature's own point; of a return ring the beam's focus, or its own centre. */
  readonly target: Vec3;
  /** Centre to target; Infinity for a return ring in collimated light. */
  readonly distance: number;
  /** û, centre to target. */
  readonly chiefRay: Vec3;
  /** ℓ̂, square to the chief ray; undefined for a point focus. */
  readonly lineDirection: Vec3 | undefined;
  /**
   * Line focus: [ℓ̂ × û]. Point focus: [ê₁, ê₂, û], by tilt, tilt and power; ê₁ is x made square to û, ê₂ = û × ê₁. Empty for a
   * return ring and for a datum feature, which are not read as a point is.
   */
  readonly senses: readonly Vec3[];
  /** How often the light that is read crosses the pattern, and with it a bias. */
  readonly passages: 1 | 2;
  readonly leaving: Eikonal;
  /** Of light that meets a feature of the part at normal incidence. */
  readonly surface?: DatumSurface;
}

/** What a patch's light meets, for a kind to choose from. */
interface Meets {
  /** As the cube stands in its nest; asked of kinds that have one. */
  readonly cube: () => CornerCube;
  /** The part's feature, where the light meets one. */
  readonly surface: DatumSurface | undefined;
}

/** A patch as its round trip sees it. Widths are those seen along the chief ray. */
export interface SeenPatch {
  readonly wavelength: number;
  readonly distance: number;
  /** Whatever its turn. */
  readonly narrowest: () => number;
  /** Along the line of a line focus and across it; undefined for a point focus. */
  readonly byLine: () => { readonly along: number; readonly across: number } | undefined;
  /** The part's feature that its light meets, and the longest way there, mm, with the place that it leads to. */
  readonly feature: () =>
    | { readonly surface: DatumSurface; readonly length: number; readonly at: Vec3 }
    | undefined;
}

export interface FresnelNumber {
  /** The smaller, where it differs along a line and across it: it governs. */
  readonly number: number;
  /** To which of the two it belongs; undefined where there is no line that counts. */
  readonly direction: 'along' | 'across' | 'both' | undefined;
  /** Below this the fringes mean little. */
  readonly least: number;
}

/** What a budget counts of the reference itself; names of figures are those of common practice that stand in. */
interface Errors<Own> {
  /** Between its sphere's centre and what the light shows, along each axis. */
  readonly offset: {
    readonly term: 'apex centring' | 'ball form';
    readonly usual: 'apexCentring' | 'form';
    own(reference: Own): number | undefined;
  };
  /** Half the tolerance of the radius. */
  readonly usualRadius: 'ballRadius' | 'smrRadius';
}

/** What `plan` does with a reference that the scenario gives to it. */
type Planning<Own> = PlannedPatches<Own> | PlannedRing | NotPlanned;

export interface PlannedPatches<Own> {
  readonly by: 'patches';
  /** It gets at least and at most so many. */
  readonly count: readonly [least: number, most: number];
  readonly focus: 'point' | 'line';
  /** One fringe of a bias that survives the way back makes the null easy to see. */
  readonly bias: BiasStart | undefined;
  /** The least width, and length along a line, whose round trip has the least Fresnel number. */
  leastWidth(reference: Own, focus: Focus, distance: number, wavelength: number): number;
  /** The longest line that comes back whole; undefined where nothing bounds it. */
  longestLine(reference: Own): number | undefined;
  /** Whether the halves of a roof come back beside the patch, which must be long enough not to lose them. */
  readonly roofShifts: boolean;
}

/** One whole ring. */
interface PlannedRing {
  readonly by: 'ring';
  /** What to do instead of leaving a place of a patch open. */
  readonly instead: string;
}

interface NotPlanned {
  readonly by: 'nobody';
  /** As above. */
  readonly instead: string;
  /** Why there are no `patches: auto`, and what to do instead for a reference of that id. */
  readonly why: string;
  readonly ratherFor: (id: string) => string;
}

interface BiasStart {
  readonly shape: Bias['shape'];
  readonly fringes: number;
  readonly direction: number | undefined;
}

/** How people meet it: on pages and drawings, in messages. */
interface KindWords {
  /** In tables. */
  readonly short: string;
  /** In sentences. */
  readonly long: string;
  /** Where a patch's light goes; `aim`: to a point or a line. */
  readonly goes: (aim: string) => string;
  /** What a patch does that has no point or line focus. */
  readonly light?: string;
  /** Why it has no place in space. */
  readonly noPlace?: string;
  /** Of light that comes back, or should. */
  readonly returned?: {
    /** What light goes past that is lost. */
    readonly missed: string;
    /** The way out where too little comes back, and where the patch is too small for its round trip. */
    readonly weak: (isLine: boolean) => string;
    readonly blurred: (direction: FresnelNumber['direction']) => string;
  };
  /** Why a tilt asked for as a bias is not seen; undefined where one is. */
  readonly noTilt?: string;
  /** Why fringes of a patch cannot be entered as a count; undefined where they can. */
  readonly noCount?: (patch: string) => string;
}
