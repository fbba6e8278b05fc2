/**
 * A value of the scenario's data with its path, and what a reader needs around it. The builders read through fields:
 * what the schema refuses already (a wrong type, a missing key, an unknown word) comes back FAULTY without a second word.
 */
import type { Code } from '../../finding/codes.ts';
import type { Finding, Path } from '../../finding/finding.ts';
import type { Scope } from '../../quantity/evaluate.ts';

/** What a builder gives for anything that has a finding already, here or deeper down. */
export const FAULTY: unique symbol = Symbol('faulty');
export type Faulty = typeof FAULTY;
export type Read<T> = T | Faulty;

/** The bytes of a file that a scenario names, or why there are none, in words. */
export type FileSource = (name: string) => Uint8Array | { readonly fault: string };

export interface Reading {
  readonly scope: Scope;
  readonly files: FileSource;
  report(code: Code, path: Path, message: string, hint: string): void;
  warn(code: Code, path: Path, message: string, hint: string): void;
  /** What is wrong within a file that the scenario names, with its place there. */
  reportWithin(findings: readonly Finding[]): void;
  /** Whether an unknown key of the object at `path` was probably meant to be `key`. */
  misspelled(path: Path, key: string): boolean;
}

export class Field {
  readonly value: unknown;
  readonly path: Path;
  readonly reading: Reading;

  constructor(value: unknown, path: Path, reading: Reading) {
    this.value = value;
    this.path = path;
    this.reading = reading;
  }

  get present(): boolean {
    return this.value !== undefined;
  }

  /** The last step of the path: a key, or a list position. */
  get name(): string {
    return String(this.path.at(-1) ?? '');
  }

  get(key: string): Field {
    const own = isObject(this.value) && Object.hasOwn(this.value, key) ? this.value[key] : undefined;
    return new Field(own, [...this.path, key], this.reading);
  }

  /** Entries of a list, or of the list at `key`; none of anything else. */
  items(key?: string): readonly Field[] {
    if (key !== undefined) return this.get(key).items();
    if (!Array.isArray(this.value)) return [];
    return this.value.map((item, i) => new Field(item, [...this.path, i], this.reading));
  }

  /** Values of an object by key; none of anything else. */
  entries(): readonly Field[] {
    return isObject(this.value) ? Object.keys(this.value).map((key) => this.get(key)) : [];
  }

  /** The key of this value as a value of its own, at the same path. */
  key(): Field {
    return new Field(this.name, this.path, this.reading);
  }

  report(code: Code, message: string, hint: string): Faulty {
    this.reading.report(code, this.path, message, hint);
    return FAULTY;
  }
}

/** The record; FAULTY if any of its members is. */
export function assemble<T extends object>(parts: { readonly [K in keyof T]: Read<T[K]> }): Read<T> {
  return Object.values(parts).includes(FAULTY) ? FAULTY : (parts as T);
}

/** The list; FAULTY if any entry is. */
export const assembleList = <T>(entries: readonly Read<T>[]): Read<readonly T[]> =>
  entries.includes(FAULTY) ? FAULTY : (entries as readonly T[]);

/**
 * The one of `keys` that is there. None (unless one was misspelled) or several are reported; FAULTY then.
 * `what` is what they are ways of giving: `a wavelength`.
 */
export function exactlyOne(field: Field, keys: readonly [string, string], what: string): Read<string> {
  const [first, second] = keys;
  const present = keys.filter((key) => field.get(key).present);
  if (present.length === 2) {
    return field
      .get(second)
      .report('conflicting-keys', `\`${first}\` and \`${second}\` both define ${what}`, 'keep one of them');
  }
  if (!isObject(field.value) || keys.some((key) => field.reading.misspelled(field.path, key))) return FAULTY;
  if (present.length === 1) return present[0]!;
  return field.report('missing-key', `\`${field.name}\` needs ${what}`, `add \`${first}\` or \`${second}\``);
}

export const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The table's own entry of this name: a file may ask for `constructor`. */
export const ownEntry = <T>(table: { readonly [name: string]: T }, name: string): T | undefined =>
  Object.hasOwn(table, name) ? table[name] : undefined;
