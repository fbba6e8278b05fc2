/** The overlay as SVG: the frame as a PNG within it, lines over it that keep their width at any size. */
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { Line } from './dark-fringes.ts';
import { COLOURS, type Placed, placedLabels } from './overlay-labels.ts';
import type { OverlayMark, OverlayPatch } from './overlay-shapes.ts';

const SIGNS: Readonly<Record<OverlayMark, string>> = { read: '✓', unsure: '?', unread: '✗' };

export function overlaySvg(
  { width, height }: CameraFrame,
  png: Uint8Array,
  patches: readonly OverlayPatch[],
  mark: string,
): string {
  const size = Math.max(width, height);
  const letters = size / LETTERS_ACROSS;
  const labels = placedLabels(patches, width, height, ({ number }) => [
    letters * (String(number).length + 1) * 0.75,
    letters,
  ]);
  const one = (patch: OverlayPatch): string =>
    `<g stroke="${hex(COLOURS[patch.mark])}"><path d="${pathOf(patch.outline)}"${patch.mark === 'read' ? '' : ` stroke-dasharray="6 4"`}/></g>\n` +
    `<path stroke="${hex(COLOURS.dark)}" stroke-width="1.2" d="${pathOf(patch.dark)}"/>\n`;
  const label = ({ patch, left, top }: Placed): string =>
    `<text x="${fixed(left)}" y="${fixed(top + letters * 0.85)}" fill="${hex(COLOURS[patch.mark])}">${patch.number}${SIGNS[patch.mark]}</text>\n`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}">\n<!-- ${mark} -->\n` +
    `<image width="${width}" height="${height}" href="data:image/png;base64,${Buffer.from(png).toString('base64')}"/>\n` +
    // The middle of the first pixel is [0, 0] in what was fitted, and half a pixel in from the picture's corner.
    `<g transform="translate(0.5 0.5)" fill="none" stroke-width="2" vector-effect="non-scaling-stroke">\n${patches.map(one).join('')}</g>\n` +
    `<g font-family="DejaVu Sans, sans-serif" font-weight="bold" font-size="${fixed(letters)}" stroke="#000000" stroke-width="${fixed(letters / 8)}" paint-order="stroke">\n${labels.map(label).join('')}</g>\n</svg>\n`
  );
}

const LETTERS_ACROSS = 36;
const fixed = (value: number): string => String(Number(value.toFixed(2)) + 0);
const hex = (colour: readonly number[]): string =>
  `#${colour.map((one) => one.toString(16).padStart(2, '0')).join('')}`;

/** Lines that go on from each other as one. */
function pathOf(lines: readonly Line[]): string {
  let path = '';
  let end = '';
  for (const [[a, b], [c, d]] of lines) {
    const [from, to] = [`${fixed(a)} ${fixed(b)}`, `${fixed(c)} ${fixed(d)}`];
    path += from === end ? `L${to}` : `M${from}L${to}`;
    end = to;
  }
  return path;
}
