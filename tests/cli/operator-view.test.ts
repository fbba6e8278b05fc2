/**
 * Where the operator sees each patch: in the sheet's drawing from the interferometer and in the picture of the whole aperture, x to the left
 * from there and to the right from the part. mm.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Place2 } from '../independent/round-trip.ts';
import { type Grey, readGrey } from './support/grey-pictures.ts';
import { SCENES, scenarioText } from './support/operator-scenes.ts';
import { cameraDiameter, cornersOf } from './support/operator-setup.ts';
import { VIEW } from './support/operator-words.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';
import { plainText } from './support/sheet-text.ts';

const scene = SCENES[0]!;
const KEPT_OUT = { id: 'main', outline: { rectangle: { width: 30, height: 16, centre: [6, -4] } } };

describe('the drawing on the sheet', () => {
  let [drawing, words] = ['', ''];
  beforeAll(async () => {
    const out = join(folder(), 'out');
    const file = scenarioFile(scenarioText(scene, { keepOuts: [KEPT_OUT] }));
    await datumlight(['make', file, '--draft', '--out', out]);
    const html = readFileSync(join(out, 'sheet.html'), 'utf8');
    const figures = html.match(/<figure[\s\S]*?<\/figure>/g)!;
    const figure = figures.find((one) => VIEW.drawing.test(plainText(one)))!;
    words = plainText(figure);
    drawing = figure.slice(figure.indexOf('<svg'));
  });

  /** The box of each path, y up; of arcs there are but half circles here. */
  const boxes = (): readonly (readonly number[])[] =>
    [...drawing.matchAll(/<path d="([^"]+)"/g)].map(([, data]) => {
      const places: Place2[] = [];
      for (const [, kind, numbers] of data!.matchAll(/([MLA]) ([-\d. ]+)/g)) {
        const values = numbers!.trim().split(' ').map(Number);
        const [x, y] = values.slice(-2) as [number, number];
        if (kind === 'A') {
          const [px, py] = places.at(-1)!;
          const [middleX, middleY, radius] = [(px + x) / 2, (py - y) / 2, values[0]!];
          places.push([middleX - radius, middleY - radius], [middleX + radius, middleY + radius]);
        }
        places.push([x, -y]);
      }
      return boxOf(places);
    });
  const mirrored = (places: readonly Place2[]): readonly Place2[] => places.map(([x, y]) => [-x, y]);

  test('has every patch and what is kept out where they are seen', () => {
    const { centre, width, height } = KEPT_OUT.outline.rectangle;
    const [x, y] = centre as [number, number];
    const kept: Place2[] = [
      [x - width / 2, y - height / 2],
      [x + width / 2, y + height / 2],
    ];
    for (const corners of [kept, ...scene.patches.map(cornersOf)]) {
      const wanted = boxOf(mirrored(corners));
      const near = boxes().some((box) => box.every((edge, k) => Math.abs(edge - wanted[k]!) < 0.05));
      expect({ wanted, near }).toEqual({ wanted, near: true });
    }
  });

  test('numbers the patches as their sections are', () => {
    for (const [k, { centre }] of scene.patches.entries()) {
      const [, x, y] = new RegExp(`<text x="([^"]+)" y="([^"]+)"[^>]*>${k + 1}</text>`).exec(drawing)!;
      // Letters stand on their line: a little lower than their middle.
      expect(Math.abs(Number(x) + centre[0])).toBeLessThan(1);
      expect(Math.abs(-Number(y) - centre[1])).toBeLessThan(4);
    }
  });

  test('says that x runs to the left, and draws it so', () => {
    expect(words).toMatch(VIEW.drawing);
    const [x, y] = ['x', 'y'].map((axis) => {
      const [, left, top] = new RegExp(`<text x="([^"]+)" y="([^"]+)"[^>]*>\\+${axis}</text>`).exec(drawing)!;
      return [Number(left), Number(top)] as const;
    }) as [readonly [number, number], readonly [number, number]];
    expect(x[0]).toBeLessThan(y[0] - 10);
    expect(y[1]).toBeLessThan(x[1] - 10);
    // And the arrows go where their names stand.
    const [, corner, end] = /<path d="M ([-\d.]+) [-\d.]+ L ([-\d.]+) [^>]*>\s*<text[^>]*>\+x/.exec(drawing)!;
    expect(Number(end)).toBeLessThan(Number(corner) - 10);
  });

  test('has the edge of the beam about the beam’s centre', () => {
    const [, cx, cy, r] = /<circle cx="([^"]+)" cy="([^"]+)" r="([^"]+)"/.exec(drawing)!;
    const [x, y] = scene.beam.focus!;
    expect([Number(cx), Number(cy)]).toEqual([-x, -y]);
    expect(Number(r)).toBeCloseTo(cameraDiameter(scene) / 2, 2);
  });
});

function boxOf(places: readonly Place2[]): readonly number[] {
  const [xs, ys] = [0, 1].map((k) => places.map((place) => place[k]!)) as [number[], number[]];
  return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
}

describe.each([
  { view: 'interferometer', right: -1 },
  { view: 'part', right: 1 },
] as const)('the whole aperture from the $view', ({ view, right }) => {
  let picture: Grey;
  beforeAll(async () => {
    const out = join(folder(), 'out');
    const args = ['--out', out, '--size', '120', '--patch', 'line-plain', '--view', view];
    await datumlight(['fringes', scenarioFile(scenarioText(scene)), ...args]);
    picture = readGrey(readFileSync(join(out, '00-aperture-1-aligned.png')));
  });

  test('has the light of each patch where the patch is seen, and none at its mirror image', () => {
    const pitch = cameraDiameter(scene) / picture.width;
    const [x0, y0] = scene.beam.focus!;
    /** The share of lit pixels over a patch's inner half, its places turned by `turn`. */
    const lit = (corners: readonly Place2[], centre: Place2, turn: Place2): number => {
      const seen = corners.flatMap(([x, y]) =>
        [0.1, 0.25, 0.4, 0.55].map((part) => {
          const px = centre[0] + part * (x - centre[0]) - x0;
          const py = centre[1] + part * (y - centre[1]) - y0;
          const column = Math.floor(picture.width / 2 + (right * turn[0] * px) / pitch);
          return picture.at(column, Math.floor(picture.height / 2 - (turn[1] * py) / pitch)) > 0.02;
        }),
      );
      return seen.filter(Boolean).length / seen.length;
    };
    for (const patch of scene.patches) {
      const [corners, { centre, reference }] = [cornersOf(patch), patch];
      const isDark = reference === 'wall';
      expect(lit(corners, centre, [1, 1]) > 0.7).toBe(!isDark);
      const others = (
        [
          [-1, 1],
          [1, -1],
          [-1, -1],
        ] as const
      ).map((turn) => lit(corners, centre, turn));
      // Two patches may stand at one another's image: not all of them.
      expect(Math.min(...others)).toBe(0);
    }
  });
});
