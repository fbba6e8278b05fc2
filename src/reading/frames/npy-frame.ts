/**
 * NumPy's `.npy`, formats 1.0 to 3.0, of whole numbers (u1, u2, i2) as grey levels and fractional ones (f4, f8) as `--unit` says: rows by
 * columns, or frames by rows by columns, in either byte order and in C or Fortran order. With `--unit` whole numbers are a phase map too.
 * Pickled objects are refused. Source: numpy.lib.format.
 */
import { fractionFrame } from './fraction-frame.ts';
import {
  BadFrame,
  checkSize,
  type DecodedFrames,
  type FrameContext,
  MOST_PAGES,
  truncated,
} from './frame-source.ts';
import { greyFrame, levelWords } from './grey-levels.ts';

const MAGIC = [0x93, 0x4e, 0x55, 0x4d, 0x50, 0x59];
export const isNpy = (bytes: Uint8Array): boolean => MAGIC.every((byte, k) => bytes[k] === byte);

type Take = (view: DataView, at: number, little: boolean) => number;
const TYPES: Readonly<Record<string, { readonly size: number; readonly take: Take }>> = {
  u1: { size: 1, take: (view, at) => view.getUint8(at) },
  u2: { size: 2, take: (view, at, little) => view.getUint16(at, little) },
  i2: { size: 2, take: (view, at, little) => view.getInt16(at, little) },
  f4: { size: 4, take: (view, at, little) => view.getFloat32(at, little) },
  f8: { size: 8, take: (view, at, little) => view.getFloat64(at, little) },
};

interface Head {
  readonly type: string;
  readonly little: boolean;
  readonly fortran: boolean;
  readonly shape: readonly number[];
  /** Where the numbers begin. */
  readonly start: number;
}

export function npyFrames(bytes: Uint8Array, context: FrameContext): DecodedFrames {
  const head = headOf(bytes);
  const [pages, height, width] = sizesOf(head.shape);
  checkSize(width, height, pages);
  const { size, take } = TYPES[head.type]!;
  const count = width * height;
  if (bytes.length - head.start < pages * count * size) throw truncated('.npy');
  const view = new DataView(bytes.buffer, bytes.byteOffset + head.start);
  const frames = Array.from({ length: pages }, (_, page) => {
    const numbers = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      // In Fortran order the first index goes fastest.
      const place = head.fortran
        ? page + pages * (Math.floor(i / width) + height * (i % width))
        : page * count + i;
      numbers[i] = take(view, place * size, head.little);
    }
    return frameOf(numbers, width, height, head.type, context);
  });
  const said = `.npy of ${head.type}${levelWords(frames[0]!, bitsOf(head.type))}`;
  return { frames, form: pages === 1 ? said : `${said}, ${pages} frames` };
}

const bitsOf = (type: string): number => (type === 'u1' ? 8 : 16);

function frameOf(numbers: Float64Array, width: number, height: number, type: string, context: FrameContext) {
  const isPhase = context.unit !== undefined && context.unit !== 'intensity';
  if (type.startsWith('f') || isPhase) return fractionFrame(width, height, numbers, context, '.npy grid');
  const negative = numbers.findIndex((value) => value < 0);
  if (negative >= 0) {
    throw new BadFrame(
      `is an .npy grid of grey levels with ${numbers[negative]}; they are 0 or more`,
      'if it is a phase map, say so: --unit waves, rad or nm',
    );
  }
  return greyFrame(width, height, numbers, bitsOf(type));
}

function sizesOf(shape: readonly number[]): readonly [pages: number, height: number, width: number] {
  const [a, b, c] = shape;
  const isColour = shape.length === 3 && (c === 3 || c === 4) && a! > MOST_PAGES;
  if (shape.length === 2) return [1, a!, b!];
  if (shape.length === 3 && !isColour && a! <= MOST_PAGES) return [a!, b!, c!];
  throw new BadFrame(
    `is an .npy array of shape (${shape.join(', ')}); a frame is (rows, columns), several are (frames, rows, columns)`,
    `save frames of one number a pixel, at most ${MOST_PAGES} in a file`,
  );
}

function headOf(bytes: Uint8Array): Head {
  const major = bytes[6]!;
  const lengthBytes = major === 1 ? 2 : 4;
  const start = 8 + lengthBytes;
  if (bytes.length < start) throw truncated('.npy');
  if (major < 1 || major > 3)
    throw new BadFrame(
      `is an .npy of format ${major}.${bytes[7]}, which is not read`,
      'save it with numpy.save',
    );
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const length = major === 1 ? view.getUint16(8, true) : view.getUint32(8, true);
  if (bytes.length < start + length) throw truncated('.npy');
  const text = new TextDecoder('latin1').decode(bytes.subarray(start, start + Math.min(length, MOST_HEAD)));
  const descr = /'descr': *'([<>|=]?)(\w+)'/.exec(text);
  const order = /'fortran_order': *(True|False)/.exec(text);
  const shape = /'shape': *\(([\d, ]*)\)/.exec(text);
  if (/'descr': *'\|?O/.test(text)) {
    throw new BadFrame(
      'is an .npy of pickled objects, which could run code and are never read',
      "save a plain array: numpy.save(name, array.astype('float32'), allow_pickle=False)",
    );
  }
  if (descr === null || order === null || shape === null) {
    throw new BadFrame(
      'is an .npy whose head is not that of a plain array',
      "save a plain array: numpy.save(name, array.astype('float32'))",
    );
  }
  const [, byteOrder, type] = descr;
  if (!Object.hasOwn(TYPES, type!)) {
    throw new BadFrame(
      `is an .npy of type ${type}; those read are ${Object.keys(TYPES).join(', ')}`,
      "convert it: array.astype('float32') for a phase, array.astype('uint16') for grey levels",
    );
  }
  return {
    type: type!,
    little: byteOrder !== '>',
    fortran: order[1] === 'True',
    shape: shape[1]!
      .split(',')
      .filter((one) => one.trim() !== '')
      .map(Number),
    start: start + length,
  };
}

/** Of a plain array a head has about a hundred. */
const MOST_HEAD = 4096;
