/**
 * What killed runs left aside in a folder: half-written packages and files go, an old package that was on its way out is put back where
 * none stands. What a running one is at work on stays. That one of them cannot be cleared is told, and stops nothing else.
 */
import { rmSync, statSync } from 'node:fs';
import type { Finding } from '../finding/finding.ts';
import { type Aside, asidesIn, MARK_NEW } from './aside.ts';
import { isSystemError, notWritable } from './not-writable.ts';
import { emptyInto, renamed, stateOf } from './swap.ts';

/** Of the folder `around`, or of `only` one of its entries; what could not be cleared comes back as a warning. */
export function clearLeftovers(around: string, only?: string): readonly Finding[] {
  const jammed: { readonly path: string; readonly reason: string }[] = [];
  for (const aside of asidesIn(around)) {
    if (!aside.orphaned || (only !== undefined && aside.of !== only)) continue;
    try {
      if (!clear(aside)) jammed.push({ path: aside.path, reason: `a file has the name ${aside.of}` });
    } catch (error) {
      if (!isSystemError(error)) throw error;
      // Gone: another run has cleared it meanwhile.
      if (error.code !== 'ENOENT') jammed.push({ path: aside.path, reason: error.message });
    }
  }
  const [first, ...others] = jammed;
  if (first === undefined) return [];
  const more = others.length === 0 ? '' : `, and ${others.length} more beside it`;
  const message = `was left by a run that was stopped and cannot be removed: ${first.reason}${more}`;
  return [
    {
      ...notWritable(first.path, message, 'move away what you need of it, then remove it by hand'),
      severity: 'warning',
    },
  ];
}

/** False where an old package has lost its place to a file of the user's. */
function clear({ path, of: target, mark }: Aside): boolean {
  const isFolder = statSync(path).isDirectory();
  if (mark === MARK_NEW) rmSync(path, { recursive: true, force: true });
  else if (stateOf(target) === 'absent') renamed(path, target);
  else if (!isFolder) rmSync(path, { force: true });
  else if (stateOf(target) === 'folder') emptyInto(path, target);
  else return false;
  return true;
}
