/** What is said of readings taken after a move: that signs or the camera's orientation are wrong, or that nothing explains them. */
import { errorFinding, type Finding } from '../../finding/finding.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { MovesCheck, Supposition } from './moves-check.ts';

/** None where the readings are as predicted and nothing else would explain them. */
export function movesFindings({ fits, compared }: MovesCheck): readonly Finding[] {
  const others = fits.filter(({ kind }) => kind !== 'as predicted');
  const asPredicted = others.length < fits.length;
  const list = others.map(wordsOf).join('; or ');
  if (asPredicted) {
    if (others.length === 0) return [];
    return [
      {
        severity: 'warning',
        rule: 'moves-undecided',
        where: 'readings',
        message: `the readings are as predicted, but would be so too if ${list}`,
        hint: `${compared === 0 ? 'read again the patches that were read before the move' : 'make a larger move, along another direction too,'} before you rely on the signs`,
      },
    ];
  }
  if (others.length === 0)
    return [
      errorFinding(
        'moves-differ',
        'readings',
        'the readings after the moves are not those predicted, and no wrong sign or orientation of the camera explains them',
        'check which screws were turned, and by how much; read again, and count whole fringes',
      ),
    ];
  const reversed = others.some(({ kind }) => kind === 'all signs wrong');
  return [
    errorFinding(
      reversed ? 'moves-reversed' : 'camera-turned',
      'readings',
      `the readings after the moves are not those predicted, but those expected if ${list}`,
      reversed
        ? 'undo the moves; find the sign of one patch by a trial move, and reverse all signs if it was wrong'
        : 'undo the moves; check how the camera is turned, and state it with `camera`',
    ),
  ];
}

function wordsOf(supposition: Supposition): string {
  if (supposition.kind === 'all signs wrong') return 'all signs were wrong';
  if (supposition.kind === 'as predicted') return 'they are right';
  const mistaken = supposition.byPlace ? ', patches being mistaken for those at their places' : '';
  return `the camera’s picture were ${orientationText(supposition.orientation)}${mistaken}`;
}

const orientationText = ({ view, turned, mirrored }: CameraOrientation): string =>
  `{view: ${view}, turned: ${turned}, mirrored: ${mirrored}}`;
