/** Files of frames for a command: read, decoded, and known to go together. */
import { createReadStream, statSync } from 'node:fs';
import type { Design } from '../design/design.ts';
import { unreadable } from '../disk/text-file.ts';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { type FrameUnit, MOST_PAGES } from '../reading/frames/frame-source.ts';
import { readFrame } from '../reading/frames/read-frame.ts';
import type { TakenFile } from '../writing/frame/frame-report.ts';
import { notTogether } from '../writing/frame/picture-read.ts';
import type { Io } from './io.ts';

/** Bytes: 16 bits a pixel at the most pixels that a frame may have, and room for text of a grid. */
const LARGEST = 512 * 1024 * 1024;

type Taken = { readonly taken: readonly TakenFile[] } | { readonly findings: readonly Finding[] };

/** One picture in phase steps, or one phase map. */
export async function takeFrames(
  design: Design,
  files: readonly string[],
  unit: FrameUnit | undefined,
  io: Io,
): Promise<Taken> {
  const wavelength = design.light.wavelength * NM_PER_MM;
  const taken: TakenFile[] = [];
  const findings: Finding[] = [];
  for (const file of files) {
    const read = await bytesOf(file, io);
    if ('finding' in read) {
      findings.push(read.finding);
      continue;
    }
    const decoded = await readFrame(read.bytes, read.name, { unit, wavelength });
    if ('finding' in decoded) findings.push(decoded.finding);
    else taken.push({ file: read.name, ...decoded });
  }
  if (findings.length > 0) return { findings };
  const apart = notTogether(taken, MOST_PAGES);
  return apart === undefined ? { taken } : { findings: [apart] };
}

type Bytes = { readonly name: string; readonly bytes: Uint8Array } | { readonly finding: Finding };

async function bytesOf(file: string, io: Io): Promise<Bytes> {
  const name = file === '-' ? '<stdin>' : file;
  const chunks: Buffer[] = [];
  let size = 0;
  try {
    // A folder says so by itself only once it is read.
    if (file !== '-') statSync(file);
    for await (const chunk of file === '-' ? io.stdin : createReadStream(file)) {
      const bytes = Buffer.from(chunk as Buffer);
      size += bytes.length;
      if (size > LARGEST) {
        const message = `is larger than ${LARGEST} bytes`;
        return {
          finding: errorFinding('file-too-large', name, message, 'crop the frame, or bin its pixels'),
        };
      }
      chunks.push(bytes);
    }
  } catch (error) {
    return unreadable(name, error);
  }
  return { name, bytes: Buffer.concat(chunks) };
}
