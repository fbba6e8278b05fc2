/** Every source of error, in two lists: those that shift what the readings say, and those between a reference and the part. */
import type { Design } from '../../design/design.ts';
import { glassIndexError, glassThickness, wavefronts, wedge } from './blank-errors.ts';
import type { ErrorModel, ErrorSource } from './error-source.ts';
import { hologramAlignment } from './hologram-alignment.ts';
import { nest, touchForm, touchRadius } from './mounting-errors.ts';
import { ownFigure } from './null-errors.ts';
import { glassExpansion, patternPlacement, wavelengthErrors } from './pattern-errors.ts';
import type { Practice } from './practice.ts';
import type { Reading } from './readings.ts';
import { apexCentring, ballForm } from './reference-errors.ts';

const READING_ERRORS: readonly ErrorModel[] = [
  apexCentring,
  ballForm,
  patternPlacement,
  hologramAlignment,
  wavelengthErrors,
  glassExpansion,
  glassThickness,
  glassIndexError,
  wedge,
  wavefronts,
  ownFigure,
];

const MOUNTING_ERRORS: readonly ErrorModel[] = [touchForm, touchRadius, nest];

/** They follow from the reference and the direction that is read: no choice of patches makes them smaller. */
const WHATEVER_PATCH: readonly ErrorModel[] = [apexCentring, ballForm, ...MOUNTING_ERRORS];

/** Errors of where the readings say that the references are. */
export const readingErrors = (
  design: Design,
  readings: readonly Reading[],
  practice: Practice,
): ErrorSource[] => READING_ERRORS.flatMap((model) => model(design, readings, practice));

/** Errors of where the references stand on the part, as the readings show them. */
export const mountingErrors = (
  design: Design,
  readings: readonly Reading[],
  practice: Practice,
): ErrorSource[] => MOUNTING_ERRORS.flatMap((model) => model(design, readings, practice));

/** Errors that stay however large and many the patches are. */
export const errorsBesidePatches = (
  design: Design,
  readings: readonly Reading[],
  practice: Practice,
): ErrorSource[] => WHATEVER_PATCH.flatMap((model) => model(design, readings, practice));
