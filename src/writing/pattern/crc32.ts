/** The cyclic redundancy check of ISO/IEC 3309 (reflected polynomial EDB88320), as OASIS's validation scheme 1 wants it. */
import * as zlib from 'node:zlib';

/** The check of bytes that follow others whose check was `before` (0 for none). Node's own from 20.15 on, twenty times as fast. */
export const crc32: (bytes: Uint8Array, before?: number) => number = zlib.crc32 ?? crc32ByTable;

/** The same where Node has none. */
export function crc32ByTable(bytes: Uint8Array, before = 0): number {
  let value = ~before;
  for (let k = 0; k < bytes.length; k++) value = TABLE[(value ^ bytes[k]!) & 0xff]! ^ (value >>> 8);
  return ~value >>> 0;
}

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
  return value;
});
