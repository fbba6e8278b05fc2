/**
 * Rule blocked: the light of every patch reaches its reference past the part's envelope, obstacles and the other references' balls, and
 * past the surface under test, within its aperture.
 * The whole cone (a wedge for a line focus) from the patch's outline is asked, through the glass as it is, by exact distances.
 * The reference's own ball, and what that ball touches, are not in the way: the light ends at the ball.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { blockedShare, lightTube, type Obstacle, standsBeside } from '../metrology/sight/line-of-sight.ts';
import { envelopeOf, obstaclesOf } from '../metrology/sight/obstacles.ts';
import { testedSkin } from '../metrology/sight/tested-skin.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const blocked = rule(
  {
    code: 'blocked',
    severity: 'error',
    scope: 'patch',
    meaning:
      'The part, its surface under test within the aperture, an obstacle, another reference or a seat blocks light between a patch and its reference.',
    limit: 'no light blocked',
    remedy: 'Move the patch or the reference until the path is clear.',
    planning: {
      by: 'moving',
      rank: 8,
      helps: 'a reference that more of the glass can see, or a part that blocks less of the light',
    },
  },
  (design) => {
    const obstacles = obstaclesOf(design);
    const part = new Set(envelopeOf(design.scenario.part).map(({ obstacle }) => obstacle));
    const skin = testedSkin(design)?.obstacle;
    const tested = design.main?.test.surface;
    return design.patches.flatMap((patch, i) => {
      const light = lightTube(design, patch);
      const inTheWay = (obstacle: Obstacle): readonly Found[] =>
        light && standsBeside(light, obstacle) ? [] : judge(design, patch, i, obstacle);
      const found = obstacles
        .filter(({ of }) => of !== patch.reference.id)
        .map(({ obstacle }) => ({ obstacle, faults: inTheWay(obstacle) }));
      // Light that the part's envelope blocks needs no word more of the part's surface.
      const isSaid = found.some(({ obstacle, faults }) => faults.length > 0 && part.has(obstacle));
      // Nor does light that ends on it, square on, pass it.
      const endsThere = patch.reference.datum !== undefined && patch.reference.datum === tested;
      const bySkin = skin === undefined || isSaid || endsThere ? [] : inTheWay(skin);
      return [...found.flatMap(({ faults }) => faults), ...bySkin];
    });
  },
);

function judge(design: Design, patch: DesignedPatch, index: number, obstacle: Obstacle): Found[] {
  const share = blockedShare(design, patch, obstacle);
  if (share === 0) return [];
  const percent = 100 * share;
  return [
    {
      where: patch.id,
      message:
        `${obstacle.name} blocks ${percent < 1 ? 'less than 1' : `about ${trimmed(percent, 0)}`} % of the light from patch ` +
        `${patch.id} to ${patch.reference.id}`,
      hint: 'move the patch or the reference until the whole cone of light between them is clear',
      value: percent,
      limit: 0,
      unit: '%',
      path: ['patches', index, 'id'],
    },
  ];
}
