/**
 * Frames of each form, against files written byte by byte here or by NumPy: the grey levels that went in come out, in the same places. What is
 * wrong with a file is said with its code, and no bytes whatever end in a fault.
 */
import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import type { FrameContext } from '../../../src/reading/frames/frame-source.ts';
import { readFrame } from '../../../src/reading/frames/read-frame.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import { lacks, pythonWith } from '../../machine/outside-programs.ts';
import { type Grey, npy, pgm, png, ramp, tiff } from './frame-bytes.ts';

const LIGHT: FrameContext = { wavelength: 632.8 };
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

async function framesOf(bytes: Uint8Array, context: Partial<FrameContext> = {}) {
  const read = await readFrame(bytes, 'f', { ...LIGHT, ...context });
  if ('finding' in read) throw new Error(`${read.finding.rule}: ${read.finding.message}`);
  return read;
}
const oneOf = async (bytes: Uint8Array, context: Partial<FrameContext> = {}): Promise<CameraFrame> => {
  const { frames } = await framesOf(bytes, context);
  expect(frames).toHaveLength(1);
  return frames[0]!;
};
async function faultOf(bytes: Uint8Array, context: Partial<FrameContext> = {}): Promise<string> {
  const read = await readFrame(bytes, 'f', { ...LIGHT, ...context });
  return 'finding' in read ? `${read.finding.rule}: ${read.finding.message}` : 'read';
}

/** Levels as they went in. */
function expectGrey({ width, height, values, levels, holds }: CameraFrame, grey: Grey, full: number): void {
  expect({ width, height, holds, levels }).toEqual({
    width: grey.width,
    height: grey.height,
    holds: 'intensity',
    levels: full,
  });
  expect(Array.from(values, (value) => Math.round(value * full))).toEqual(grey.samples);
  expect(Math.max(...values)).toBeLessThanOrEqual(1);
}

const EIGHT = ramp(7, 5, 255);
const SIXTEEN = ramp(7, 5, 65_535);
const gridText = (grey: Grey, separator: string): string =>
  Array.from({ length: grey.height }, (_, row) =>
    grey.samples.slice(row * grey.width, (row + 1) * grey.width).join(separator),
  ).join('\n');

describe('grey levels come out as they went in', () => {
  const plain = (grey: Grey): string =>
    `P2\n# by hand\n${grey.width} ${grey.height} #\n${Math.max(...grey.samples)}\n${gridText(grey, ' ')}\n`;
  test.each<[string, Uint8Array, Grey, number]>([
    ['PNG of 8 bits', png(EIGHT, 8), EIGHT, 255],
    ['PNG of 16 bits', png(SIXTEEN, 16), SIXTEEN, 65_535],
    ['PNG of 1 bit', png(ramp(11, 3, 1), 1), ramp(11, 3, 1), 1],
    ['PNG of 4 bits', png(ramp(5, 3, 15), 4), ramp(5, 3, 15), 15],
    ['TIFF of 8 bits', tiff([EIGHT], { bits: 8 }), EIGHT, 255],
    [
      'TIFF of 8 bits in strips, big-endian',
      tiff([EIGHT], { bits: 8, bigEndian: true, rowsPerStrip: 2 }),
      EIGHT,
      255,
    ],
    ['TIFF of 16 bits', tiff([SIXTEEN], { bits: 16 }), SIXTEEN, 65_535],
    ['TIFF of 16 bits, big-endian', tiff([SIXTEEN], { bits: 16, bigEndian: true }), SIXTEEN, 65_535],
    [
      'TIFF of 16 bits, deflated in strips',
      tiff([SIXTEEN], { bits: 16, deflate: true, rowsPerStrip: 2 }),
      SIXTEEN,
      65_535,
    ],
    ['PGM of 8 bits', pgm(EIGHT, 255, '# a comment 3 4\n'), EIGHT, 255],
    ['PGM of 16 bits', pgm(SIXTEEN, 65_535), SIXTEEN, 65_535],
    ['PGM with a largest value of its own', pgm(ramp(4, 3, 100), 1000), ramp(4, 3, 100), 1000],
    ['PGM of plain text', bytesOf(plain(EIGHT)), EIGHT, 255],
    ['PGM of plain text, 16 bits', bytesOf(plain(SIXTEEN)), SIXTEEN, 65_535],
  ])('%s', async (_, bytes, grey, full) => {
    expectGrey(await oneOf(bytes), grey, full);
  });

  test.each([10, 12, 14])(
    'of a camera of %d bits in 16: full scale is the camera’s, in the low bits or the high',
    async (bits) => {
      const full = 2 ** bits - 1;
      const low = ramp(9, 7, full);
      const high = { ...low, samples: low.samples.map((value) => value * 2 ** (16 - bits)) };
      for (const { frames, form } of [
        await framesOf(png(low, 16)),
        await framesOf(tiff([high], { bits: 16 })),
      ]) {
        expectGrey(frames[0]!, low, full);
        expect(form).toContain(`grey levels of ${bits} bits`);
      }
    },
  );

  test('white is zero: inverted', async () => {
    const inverted = { ...EIGHT, samples: EIGHT.samples.map((value) => 255 - value) };
    expectGrey(await oneOf(tiff([inverted], { bits: 8, whiteIsZero: true })), EIGHT, 255);
  });

  test('pages of a TIFF are frames', async () => {
    const { frames, form } = await framesOf(tiff([EIGHT, ramp(7, 5, 200), EIGHT], { bits: 8 }));
    expectGrey(frames[1]!, ramp(7, 5, 200), 255);
    expect(frames).toHaveLength(3);
    expect(form).toBe('8-bit TIFF, 3 pages');
  });
});

/** ITU-R BT.709, from its text: 0.2126, 0.7152, 0.0722. */
const LUMA = 0.2126 * 200 + 0.7152 * 100 + 0.0722 * 50;
test.each<[string, Uint8Array, number]>([
  ['RGB', png({ width: 1, height: 1, samples: [200, 100, 50] }, 8, 2), LUMA / 255],
  [
    'RGB with opacity, which is left out',
    png({ width: 1, height: 1, samples: [200, 100, 50, 3] }, 8, 6),
    LUMA / 255,
  ],
  ['grey with opacity', png({ width: 1, height: 1, samples: [200, 0] }, 8, 4), 200 / 255],
  ['a palette', png({ width: 2, height: 1, samples: [1, 0] }, 8, 3, [0, 0, 0, 200, 100, 50]), LUMA / 255],
  ['RGB of 16 bits', png({ width: 1, height: 1, samples: [51_400, 25_700, 12_850] }, 16, 2), LUMA / 255],
  [
    'a TIFF of RGB',
    tiff([{ width: 1, height: 1, samples: [200, 100, 50] }], { bits: 8, channels: 3 }),
    LUMA / 255,
  ],
])('colour is taken for its luminance: %s', async (_, bytes, expected) => {
  expect((await oneOf(bytes)).values[0]).toBeCloseTo(expected, 5);
});

describe('phase maps, in waves of the return', () => {
  const map = '0.5, 1, -2\nnan,,0.25\n';
  test.each<[string, string, Partial<FrameContext>, number]>([
    ['waves by option', map, { unit: 'waves' }, 1],
    ['radians by option', map, { unit: 'rad' }, 1 / (2 * Math.PI)],
    ['nanometres by option', map, { unit: 'nm' }, 1 / 632.8],
    ['waves by the head', `# phase, unit: waves\n${map}`, {}, 1],
    ['radians by the head', `"units","rad"\n${map}`, {}, 1 / (2 * Math.PI)],
    ['nanometres by the head', `made by hand\nUnit = nm\n${map}`, {}, 1 / 632.8],
    ['semicolons and decimal commas', '0,5;1;-2\nNaN;;0,25', { unit: 'waves' }, 1],
    ['blanks', '  0.5 1 -2\n nan nan  0.25\n\n', { unit: 'waves' }, 1],
    ['tabs, and lines of another system', '0.5\t1\t-2\r\n--\tbad\t0.25\r\n', { unit: 'waves' }, 1],
  ])('a grid of %s', async (_, text, context, scale) => {
    const { width, height, values, holds, levels } = await oneOf(bytesOf(text), context);
    expect({ width, height, holds, levels }).toEqual({
      width: 3,
      height: 2,
      holds: 'phase',
      levels: undefined,
    });
    for (const [k, expected] of [0.5, 1, -2, Number.NaN, Number.NaN, 0.25].entries())
      Number.isNaN(expected)
        ? expect(values[k]).toBeNaN()
        : expect(values[k]).toBeCloseTo(expected * scale, 6);
  });

  test('rows without a value at the top and the bottom are rows', async () => {
    const { width, height, values } = await oneOf(bytesOf(`unit: waves\n,,\n,,\n1,2,3\n,,\n`));
    expect([width, height]).toEqual([3, 4]);
    expect([...values.subarray(6, 9)]).toEqual([1, 2, 3]);
  });

  test('a TIFF of fractional numbers', async () => {
    for (const bits of [32, 64] as const) {
      const page = { width: 3, height: 1, samples: [-1.5, Number.NaN, 1e38] };
      const { values } = await oneOf(tiff([page], { bits, bigEndian: bits === 64 }), { unit: 'waves' });
      // 1e38 is a mark of the program that wrote it.
      expect([...values]).toEqual([-1.5, Number.NaN, Number.NaN]);
    }
  });
});

const python = pythonWith('numpy');
test.skipIf(lacks({ 'Python with NumPy': python }))(
  'arrays that NumPy wrote: every type, byte order, order of indices and format',
  async () => {
    const script = `
import io, json, base64, numpy as np
out = []
for name in ['u1', '<u2', '>u2', '<i2', '>i2', '<f4', '>f4', '<f8', '>f8']:
    for order in 'CF':
        for version in [(1, 0), (2, 0)]:
            for shape in [(3, 5), (2, 3, 5)]:
                a = np.arange(np.prod(shape)).reshape(shape)
                a = np.array(a * 0.25 if 'f' in name else a * 7, dtype=name, order=order)
                f = io.BytesIO()
                np.lib.format.write_array(f, a, version=version)
                out.append([name, list(shape), base64.b64encode(f.getvalue()).decode(), a.ravel(order='C').tolist()])
print(json.dumps(out))
`;
    const { stdout } = spawnSync(python!, ['-c', script], { encoding: 'utf8' });
    const written = JSON.parse(stdout) as [string, number[], string, number[]][];
    expect(written).toHaveLength(72);
    for (const [name, shape, data, numbers] of written) {
      const unit = name.includes('f') ? ({ unit: 'waves' } as const) : {};
      const { frames } = await framesOf(Buffer.from(data, 'base64'), unit);
      expect(frames.map(({ width, height }) => [height, width])).toEqual(
        Array.from({ length: shape.length === 2 ? 1 : 2 }, () => shape.slice(-2)),
      );
      const scale = name.includes('f') ? 1 : frames[0]!.levels!;
      const read = frames.flatMap(({ values }) => Array.from(values, (value) => value * scale));
      read.forEach((value, k) => void expect(value, name).toBeCloseTo(numbers[k]!, 3));
    }
  },
);

describe('what is no frame is refused by name', () => {
  const head = (type: string, shape = '(2, 2)', order = 'False') =>
    `{'descr': ${type}, 'fortran_order': ${order}, 'shape': ${shape}, }`;
  const wide = png({ width: 2, height: 2, samples: [0, 1, 2, 3] }, 8);
  wide.writeUInt32BE(100_000, 16);
  const loop = tiff([EIGHT], { bits: 8 });
  loop.writeUInt32LE(loop.readUInt32LE(4), loop.length - 4);
  const bent = png(EIGHT, 8);
  bent[bent.length - 20]! ^= 0xff;
  test.each<[string, Uint8Array, Partial<FrameContext>, RegExp]>([
    ['nothing', bytesOf(''), {}, /^bad-frame: is empty/],
    ['a scenario', bytesOf('format: datumlight/1\ntitle: x\n'), {}, /^bad-frame: is no frame: neither/],
    ['noise', Uint8Array.from({ length: 500 }, (_, k) => (k * 197) % 256), {}, /^bad-frame: is no frame/],
    ['a JPEG', Uint8Array.of(0xff, 0xd8, 0xff, 0xe0), {}, /^bad-frame: is a JPEG, whose compression/],
    ['an .npz', bytesOf('PK\u0003\u0004'), {}, /^bad-frame: is a zip archive/],
    ['a PNG cut off', png(EIGHT, 8).subarray(0, 50), {}, /^bad-frame: is a damaged or truncated PNG/],
    ['a PNG with a bit changed', bent, {}, /^bad-frame: is a damaged or truncated PNG/],
    ['a PNG of absurd size', wide, {}, /^bad-frame: is a damaged or truncated PNG|^file-too-large/],
    ['a TIFF cut off', tiff([EIGHT], { bits: 8 }).subarray(0, 60), {}, /^bad-frame: is a TIFF that/],
    ['a TIFF of pages in a circle', loop, {}, /^bad-frame: is a TIFF whose pages go in a circle/],
    [
      'a TIFF of signed samples',
      tiff([EIGHT], { bits: 16, sampleFormat: 2 }),
      {},
      /signed samples of 16 bits, which is not read/,
    ],
    ['a TIFF turned by its tag', tiff([EIGHT], { bits: 8, orientation: 6 }), {}, /orientation/],
    ['a PGM cut off', pgm(EIGHT, 255).subarray(0, 30), {}, /^bad-frame: is a PGM that ends too soon/],
    [
      'a PGM of absurd size',
      bytesOf('P5 99999999 99999999 255\n'),
      {},
      /^file-too-large: has 99999999 × 99999999 pixels/,
    ],
    [
      'a PGM beyond its largest value',
      bytesOf('P2 2 1 9\n3 10'),
      {},
      /^bad-frame: is a PGM with the value 10/,
    ],
    [
      'an .npy of objects',
      npy(head("'|O'"), new Uint8Array(40)),
      {},
      /^bad-frame: is an \.npy of pickled objects/,
    ],
    [
      'an .npy of records',
      npy(head("[('a', '<f4')]"), new Uint8Array(40)),
      {},
      /^bad-frame: is an \.npy whose head/,
    ],
    [
      'an .npy of complex numbers',
      npy(head("'<c8'"), new Uint8Array(40)),
      {},
      /^bad-frame: is an \.npy of type c8/,
    ],
    [
      'an .npy cut off',
      npy(head("'<f8'"), new Uint8Array(31)),
      { unit: 'rad' },
      /^bad-frame: is a \.npy that ends/,
    ],
    ['an .npy of absurd size', npy(head("'u1'", '(90000, 90000)'), new Uint8Array(3)), {}, /^file-too-large/],
    [
      'an .npy of one index',
      npy(head("'u1'", '(4,)'), new Uint8Array(4)),
      {},
      /^bad-frame: is an \.npy array of shape \(4\)/,
    ],
    [
      'an .npy of another format',
      npy(head("'u1'"), new Uint8Array(4), 9),
      {},
      /^bad-frame: is an \.npy of format 9\.0/,
    ],
    [
      'negative grey levels',
      npy(head("'<i2'", '(1, 1)'), Uint8Array.of(0xff, 0xff)),
      {},
      /^bad-frame: .* with -1/,
    ],
    [
      'fractional numbers without a unit',
      npy(head("'<f4'"), new Uint8Array(16)),
      {},
      /^missing-key: .*nothing says what they are/,
    ],
    ['a grid without a unit', bytesOf('1,2\n3,4'), {}, /^missing-key/],
    [
      'two units',
      bytesOf('unit: nm\n1,2\n3,4'),
      { unit: 'rad' },
      /^conflicting-keys: f says that its unit is nm, and --unit says rad/,
    ],
    ['a ragged grid', bytesOf('1,2\n3'), { unit: 'rad' }, /^bad-table: has 1 numbers in this row, and 2/],
    ['a word in a grid', bytesOf('1,2\n3,x'), { unit: 'rad' }, /^bad-table: has "x" in column 2/],
    [
      'a map without a value',
      bytesOf('nan,nan\nnan,nan'),
      { unit: 'rad' },
      /^bad-frame: is a phase map without a single value/,
    ],
    [
      'an intensity above full scale',
      bytesOf('0.1,0.2\n0.3,1.5'),
      { unit: 'intensity' },
      /^bad-frame: .*1\.5 in row 2, column 2/,
    ],
    [
      'an intensity that is no number',
      bytesOf('0.1,0.2\n0.3,nan'),
      { unit: 'intensity' },
      /no number in row 2, column 2/,
    ],
    [
      'grey levels called a phase',
      png(EIGHT, 8),
      { unit: 'nm' },
      /^conflicting-keys: f is a PNG of whole grey levels/,
    ],
  ])('%s', async (_, bytes, context, words) => {
    expect(await faultOf(bytes, context)).toMatch(words);
  });

  test('a row of a grid is named by its place', async () => {
    const read = await readFrame(bytesOf('unit: rad\n1,2\n3,x'), 'map.csv', LIGHT);
    expect('finding' in read && read.finding.place).toMatchObject({ file: 'map.csv', line: 3 });
  });

  test('any byte changed, and any end cut off: a frame or a finding, never a fault', async () => {
    const sound = [
      png(ramp(6, 4, 255), 8),
      png({ width: 2, height: 2, samples: [1, 0, 0, 1] }, 8, 3, [0, 0, 0, 9, 9, 9]),
      tiff([ramp(6, 4, 65_535)], { bits: 16, rowsPerStrip: 2 }),
      tiff([ramp(3, 2, 255)], { bits: 8, deflate: true, bigEndian: true }),
      pgm(ramp(6, 4, 255), 255),
      npy(head("'<f4'", '(2, 3)'), new Uint8Array(24)),
      bytesOf('unit: nm\n1,2,3\n4,nan,6\n'),
    ];
    let refused = 0;
    for (const bytes of sound) {
      for (let at = 0; at < bytes.length; at += 3) {
        const bent = Uint8Array.from(bytes);
        bent[at] = (bent[at]! + 1 + ((at * 89) % 255)) % 256;
        for (const tried of [bent, bytes.subarray(0, at)]) {
          const answer = await faultOf(tried, { unit: undefined });
          if (answer !== 'read') refused++;
        }
      }
    }
    expect(refused).toBeGreaterThan(300);
  });
});
