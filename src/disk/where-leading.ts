/** Where a path leads once links are followed, also one where nothing stands yet: what tells two spellings of one place. */
import { lstatSync, realpathSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { isSystemError, notWritable } from './not-writable.ts';

type Leads = { readonly to: string } | 'nowhere' | 'absent';

/** Renaming a link itself would replace it. One that dangles or goes round in a circle leads nowhere. */
export function whereLeading(path: string): Leads {
  try {
    return { to: realpathSync(path) };
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return isLink(path) ? 'nowhere' : 'absent';
  }
}

function isLink(path: string): boolean {
  try {
    return lstatSync(path).isSymbolicLink();
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return false;
  }
}

/** The one absolute path of a place: of what is not there yet, the links of the folders above it are followed. */
export function placeOf(path: string): string {
  const whole = resolve(path);
  const leads = whereLeading(whole);
  if (typeof leads === 'object') return leads.to;
  const above = dirname(whole);
  return leads === 'nowhere' || above === whole ? whole : join(placeOf(above), basename(whole));
}

export const leadsNowhere = (path: string, what: 'folder' | 'file') =>
  notWritable(path, `is a link to a ${what} that does not exist`, `create that ${what} or name another one`);
