/** Which shard of a batch a case belongs to: by the SHA-256 of its name, so that a case more or less moves no other one. */
import { sha256 } from '../writing/manifest.ts';

export interface Shard {
  /** From 1 to `count`. */
  readonly index: number;
  readonly count: number;
}

/** `2/4`; undefined for anything else. */
export function parseShard(text: string): Shard | undefined {
  const found = /^(\d{1,6})\/(\d{1,6})$/.exec(text);
  if (found === null) return undefined;
  const [index, count] = [Number(found[1]), Number(found[2])];
  return index >= 1 && index <= count ? { index, count } : undefined;
}

/** 48 bits of the hash: whole numbers that a double holds. */
export const belongsTo = ({ index, count }: Shard, name: string): boolean =>
  Number.parseInt(sha256(name).slice(0, 12), 16) % count === index - 1;
