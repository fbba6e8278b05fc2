import { inflateRawSync, crc32 as zlibCrc32 } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { cellNames } from '../../../src/writing/pattern/cell-names.ts';
import { crc32, crc32ByTable } from '../../../src/writing/pattern/crc32.ts';
import { DatabasePolygons } from '../../../src/writing/pattern/database-polygon.ts';
import { excess64 } from '../../../src/writing/pattern/gdsii.ts';
import { signed, unsigned } from '../../../src/writing/pattern/oasis.ts';
import { patternDxf } from '../../../src/writing/pattern/pattern-dxf.ts';
import { patternDesign, written } from './pattern-design.ts';
import '../../machine/patience.ts';

const hex = (bytes: ArrayLike<number>): string =>
  Buffer.from(Array.from(bytes)).toString('hex').toUpperCase();
const design = patternDesign();

describe('GDSII', () => {
  // Known encodings, recomputed from memory of the format.
  test.each([
    [1, '4110000000000000'],
    [-1, 'C110000000000000'],
    [0.5, '4080000000000000'],
    [1e-3, '3E4189374BC6A7F0'],
    [1e-6, '3C10C6F7A0B5ED8D'],
    [1e-9, '3944B82FA09B5A54'],
    [0, '0000000000000000'],
  ])('writes the real %d as %s', (value, expected) => {
    expect(hex(excess64(value))).toBe(expected);
  });

  test('starts with its header, states its unit, and has zeros for dates', () => {
    const { bytes } = written(design, { format: 'gds' });
    expect(hex(bytes.subarray(0, 6))).toBe('000600020258');
    expect(hex(bytes.subarray(6, 34))).toBe(`001C0102${'0'.repeat(48)}`);
    const units = bytes.indexOf(Buffer.from('00140305', 'hex'));
    expect(hex(bytes.subarray(units + 4, units + 20))).toBe('3E4189374BC6A7F03944B82FA09B5A54');
    expect(hex(bytes.subarray(-4))).toBe('00040400');
  });

  test('dates library and cells where a date is given', () => {
    const { bytes } = written(design, { format: 'gds', date: [2001, 9, 9, 1, 46, 40] });
    expect(hex(bytes.subarray(10, 22))).toBe('07D1000900090001002E0028');
  });
});

describe('OASIS', () => {
  // From memory of the standard, recomputed.
  test.each([
    [127, '7F'],
    [128, '8001'],
    [16384, '808001'],
    [2 ** 40, '808080808020'],
  ])('writes the unsigned %d as %s', (value, expected) => {
    expect(hex(unsigned(value))).toBe(expected);
  });
  test.each([
    [1, '02'],
    [-1, '03'],
    [-64, '8101'],
    [0, '00'],
  ])('writes the signed %d as %s', (value, expected) => {
    expect(hex(signed(value))).toBe(expected);
  });

  test('has its magic, an END of 256 bytes, and a CRC-32 of all before it', () => {
    const { bytes } = written(design, { format: 'oas' });
    expect(hex(bytes.subarray(0, 13))).toBe('2553454D492D4F415349530D0A');
    expect(bytes[bytes.length - 256]).toBe(2);
    expect(bytes[bytes.length - 5]).toBe(1);
    const check = bytes.readUInt32LE(bytes.length - 4);
    expect(check).toBe(crc32(bytes.subarray(0, -4)));
  });

  // The check value of this CRC for the digits 1 to 9 is common knowledge, from memory.
  test.each([crc32, crc32ByTable])('checks as everyone does', (check) => {
    const digits = Buffer.from('123456789');
    expect(check(digits)).toBe(0xcbf43926);
    expect(check(digits.subarray(4), check(digits.subarray(0, 4)))).toBe(0xcbf43926);
    if (typeof zlibCrc32 === 'function') expect(check(digits)).toBe(zlibCrc32(digits));
  });

  test('compresses every cell: its CBLOCKs inflate to what they state and hold the names of all cells', () => {
    const { bytes, summary } = written(design, { format: 'oas' });
    let at = 13 + 1 + 4 + 1 + 2 + 1 + 12;
    const integer = (): number => {
      let [value, shift] = [0, 1];
      for (;;) {
        const byte = bytes[at++]!;
        value += (byte & 127) * shift;
        shift *= 128;
        if (byte < 128) return value;
      }
    };
    const blocks: Buffer[] = [];
    while (bytes[at] === 34) {
      at++;
      expect(integer()).toBe(0);
      const [full, packed] = [integer(), integer()];
      blocks.push(inflateRawSync(bytes.subarray(at, at + packed)));
      expect(blocks[blocks.length - 1]!.length).toBe(full);
      at += packed;
    }
    expect(bytes.length - at).toBe(256);
    const all = Buffer.concat(blocks);
    for (const name of [summary.topCell, ...summary.patches.map(({ cell }) => cell)])
      expect(all.includes(Buffer.from(name))).toBe(true);
    expect(all.length).toBeGreaterThan(bytes.length);
  });
});

test.each(['gds', 'oas'] as const)('%s: the same design gives the same bytes', (format) => {
  expect(written(patternDesign(), { format }).bytes.equals(written(patternDesign(), { format }).bytes)).toBe(
    true,
  );
});

test('thinned and draft patterns say so in the name of the top cell, thinned ones on a layer of their own', () => {
  const thinned = written(design, { format: 'gds', every: 4 });
  expect(thinned.summary.topCell).toBe('ALL_THINNED_NOT_FOR_FABRICATION');
  expect(thinned.bytes.includes(Buffer.from('00060D02000100060E020001', 'hex'))).toBe(true);
  expect(thinned.bytes.includes(Buffer.from('00060D02000100060E020000', 'hex'))).toBe(false);
  expect(written(design, { format: 'gds', draft: true }).summary.topCell).toBe(
    'ALL_DRAFT_NOT_FOR_FABRICATION',
  );
});

describe('names of cells', () => {
  const long = 'a-very-long-name-of-a-patch-that-goes-on';
  test('are legal, different and at most 32 letters; an id that is a legal name keeps it', () => {
    expect(cellNames(['north-1', 'north_1', 'Été', 'top', '', long, `${long}-2`], ['TOP'])).toEqual([
      'north_1_2',
      'north_1',
      'Ete',
      'top_2',
      '_',
      'a_very_long_name_of_a_patch_that',
      'a_very_long_name_of_a_patch_th_2',
    ]);
  });

  // The readers that tell no case apart see one name in A_2 and a_2.
  test.each([
    [['a-', 'a.', 'a_', 'a__2']],
    [['a.2', 'a-2', 'a_2', 'A_2', 'a_2_2', 'a_2_3']],
    [['x-1', 'x.1', 'x_1_2', 'X_1_3', 'x_1']],
    [[`${long}x`, `${long}y`, 'a_very_long_name_of_a_patch_that', 'A_very_long_name_of_a_patch_th_2']],
  ])('of %j never are the id of another patch, whatever the case', (ids) => {
    const names = cellNames(ids, []);
    const folded = names.map((name) => name.toLowerCase());
    expect(new Set(folded).size).toBe(ids.length);
    for (const [k, name] of names.entries()) {
      const others = ids.filter((_, other) => other !== k).map((id) => id.toLowerCase());
      if (name !== ids[k]) expect(others).not.toContain(name.toLowerCase());
      expect(name).toMatch(/^[A-Za-z0-9_?$]{1,32}$/);
    }
  });
});

describe('polygons on the grid', () => {
  const taken = (scale: number, limit: number, xy: number[]) => {
    const parts: number[][] = [];
    const polygons = new DatabasePolygons(scale, limit, (points, count) =>
      parts.push([...points.subarray(0, 2 * count)]),
    );
    polygons.add(Float64Array.from(xy), xy.length / 2);
    return { parts, tally: polygons.tally };
  };

  test('joins vertices that fall together and drops what has no area', () => {
    expect(taken(10, 100, [0, 0, 0.01, 0.01, 1, 0, 1, 1, 0.99, 1.01, 0.04, 0]).parts).toEqual([
      [0, 0, 10, 0, 10, 10],
    ]);
    expect(taken(1, 100, [0, 0, 0.2, 0, 0.2, 5]).tally.dropped).toBe(1);
    expect(taken(1, 100, [0, 0, 0.2, 0.1, 0.1, 0.3]).tally.dropped).toBe(1);
  });

  test('cuts a polygon above the limit into parts that share its area', () => {
    const count = 5000;
    const comb: number[] = [];
    // A star: every line cuts it many times.
    for (let k = 0; k < count; k++) {
      const [angle, radius] = [(2 * Math.PI * k) / count, k % 2 === 0 ? 50 : 30];
      comb.push(radius * Math.cos(angle), radius * Math.sin(angle));
    }
    const whole = taken(1e6, 8190, comb);
    const cut = taken(1e6, 100, comb);
    expect(whole.parts.length).toBe(1);
    expect(cut.parts.length).toBeGreaterThan(50);
    for (const part of cut.parts) expect(part.length).toBeLessThanOrEqual(200);
    expect(cut.tally.twiceArea / whole.tally.twiceArea).toBeCloseTo(1, 7);
  });

  test.each([
    [() => taken(1e8, 100, [0, 0, 30, 0, 30, 30]), /does not fit in 32 bits/],
    [() => taken(1, 3, [0, 0, 1, 0, 1, 1]), /vertex limit is 3; expected/],
    [() => written(design, { format: 'gds', vertexLimit: 9000 }), /expected at most 8190/],
    [() => written(design, { format: 'oas', stepsPerMicron: 10 }), /expected a whole number from 1000 on/],
    [() => patternDxf(design, { mostVertices: 1000 }), /more than 1000 vertices.*GDSII or OASIS/s],
  ])('refuses, case %#', (act, message) => {
    expect(act).toThrow(message);
  });
});
