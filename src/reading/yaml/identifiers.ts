/** Ids of a list: fit to name a file on any system, and unique. */
import { assembleList, FAULTY, type Field, type Read } from './field.ts';

const ID = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/;
/** Names that Windows keeps for devices, with or without an extension. */
const DEVICE = /^(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])( *\..*)?$/i;
export const DEVICE_NAME = 'is a reserved device name on some systems';
const ID_CHARACTERS =
  'use at most 64 letters, digits, `.`, `_`, `-`; start with a letter or digit; no `..`, no `.` at the end';

/** Whether a text may be an id; otherwise it is reported. */
export function identifier(field: Field): Read<string> {
  const { value } = field;
  if (typeof value !== 'string') return FAULTY;
  return wellFormed(field, value) ? value : FAULTY;
}

function wellFormed(field: Field, id: string): boolean {
  const fault = fileNameFault(id);
  if (fault === undefined) return true;
  const quoted = `\`${id.length > 40 ? `${id.slice(0, 40)}…` : id}\``;
  const message = `the id ${quoted} ${fault === 'device' ? DEVICE_NAME : 'cannot be used as a file name'}`;
  field.report('bad-id', message, fault === 'device' ? 'choose another id' : ID_CHARACTERS);
  return false;
}

/** The entries of a list, each with an `id` of its own; none of what is no list. */
export function listById<T>(list: Field, build: (item: Field) => Read<T>): Read<readonly T[]> {
  const items = list.items();
  uniqueIds(items.map((item) => item.get('id')));
  return assembleList(items.map(build));
}

/** Why an id cannot name a file on every system; undefined where it can. */
export function fileNameFault(id: string): 'device' | 'characters' | undefined {
  if (isDeviceName(id)) return 'device';
  return ID.test(id) && !id.includes('..') && !id.endsWith('.') ? undefined : 'characters';
}

export const isDeviceName = (name: string): boolean => DEVICE.test(name);

/** Reports each id that an earlier one of the list has taken; ids that differ in case alone would share a file. */
export function uniqueIds(ids: readonly Field[]): void {
  const first = new Map<string, string>();
  for (const field of ids) {
    if (typeof field.value !== 'string') continue;
    const taken = first.get(field.value.toLowerCase());
    if (taken === undefined) {
      first.set(field.value.toLowerCase(), field.value);
    } else {
      const but = taken === field.value ? '' : ` except for case (\`${taken}\`)`;
      field.report(
        'duplicate-id',
        `the id \`${field.value}\` is already in use${but}`,
        'rename one of the two',
      );
    }
  }
}
