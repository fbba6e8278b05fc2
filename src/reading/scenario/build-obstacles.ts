/** Mounts and clamps on the bench. Substrate frame, mm. */
import type { Obstacle } from '../../scenario/scenario.ts';
import { assemble, assembleList, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, listById } from '../yaml/identifiers.ts';
import { buildSolid } from './build-part.ts';

export function buildObstacles(field: Field): Read<readonly Obstacle[]> {
  if (field.present && !Array.isArray(field.value)) return FAULTY;
  return listById(field, (item) =>
    assemble<Obstacle>({
      id: identifier(item.get('id')),
      solids: assembleList(item.items('solids').map(buildSolid)),
    }),
  );
}
