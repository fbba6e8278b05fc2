/**
 * What a drawing says, read from the written files and compared with the numbers of the scenario: the patch table, ordinates, captions
 * and title block by where the words stand, outlines and focus lines by their coordinates. A scene without symmetry: x for y, width for
 * height, a mirror or a turn the wrong way shows. mm, degrees.
 */
import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { type PatchWords, type Point, patchWords, referenceWords } from '../../independent/scene.ts';
import { edgePoints, outsideBy } from '../../independent/scene-outline.ts';
import { scenePhase, slopeOf } from '../../independent/scene-phase.ts';
import { distanceIn } from '../../independent/scene-senses.ts';
import { headOf, jsonPatches } from '../support/coefficient-text.ts';
import { DRAWING, DRAWN_SCENE } from '../support/drawn-scene.ts';
import { placesIn } from '../support/figures.ts';
import { HEAD, packageOfScene } from '../support/made-package.ts';
import { firstOf, type ReadEntity, readDxf, readXml, valuesOf } from './drawing-readers.ts';
import { dxfWords, fieldsBeside, numbersIn, pdfWords, sizeOf, svgWords, tableUnder } from './drawn-words.ts';

const files = packageOfScene(DRAWN_SCENE);
const [dxf, svg, pdf] = ['layout.dxf', 'layout.svg', 'layout.pdf'].map((name) => files.get(name)!);
const DRAWINGS = [
  ['layout.svg', svgWords(svg!)],
  ['layout.dxf', dxfWords(dxf!)],
] as const;
/** Height of the lettering on the sheet that holds the scene, A3, and about half of what a letter takes along a line: ISO 3098. */
const LETTERING = 2.5;
const HALF_ADVANCE = 0.4 * LETTERING;
/** Both write nine decimals. */
const ROUNDING = 1.5e-9;

const KINDS: Readonly<Record<string, string>> = {
  ball: 'ball',
  smr: 'SMR',
  screen: 'screen',
  return: 'return',
};

describe.each(DRAWINGS)('the words of %s', (_, words) => {
  const rows = tableUnder(words, 'NO.');

  test('name the columns of the patch table from left to right, x before y', () => {
    expect(Object.keys(rows[0]!)).toEqual([
      'NO.',
      'PATCH',
      'REFERENCE',
      'KIND',
      'FOCUS deg',
      'CENTRE x, mm',
      'CENTRE y, mm',
      'OUTLINE mm',
      'DISTANCE mm',
      'ORDER',
      'FRINGES AT NULL',
      'PERIOD min, um',
    ]);
    expect(rows).toHaveLength(DRAWN_SCENE.patches.length);
  });

  test.each(DRAWN_SCENE.patches.map((patch, k) => [patch.id, patch, k] as const))(
    'have the row of the patch %s by the scene’s own numbers',
    (id, patch, k) => {
      const row = rows[k]!;
      const reference = referenceWords(DRAWN_SCENE, patch);
      expect([row['NO.'], row.PATCH, row.REFERENCE, row.KIND]).toEqual([
        String(k + 1),
        id,
        patch.reference,
        KINDS[reference.kind],
      ]);
      expect(row['FOCUS deg']!.split(' ')[0]).toBe(patch.focus);
      expect(numbersIn(row['FOCUS deg']!)).toEqual(patch.lineAngle === undefined ? [] : [patch.lineAngle]);
      expect([Number(row['CENTRE x, mm']), Number(row['CENTRE y, mm'])]).toEqual(patch.centre);
      const { form, numbers } = sizeOf(patch);
      expect(row['OUTLINE mm']).toMatch(form);
      expect(numbersIn(row['OUTLINE mm']!)).toEqual(numbers);
      const focus = DRAWN_SCENE.interferometer.focus!;
      const [x, y] = patch.centre;
      const distance =
        patch.focus === 'return'
          ? Math.hypot(x - focus[0], y - focus[1], focus[2])
          : distanceIn(DRAWN_SCENE, patch);
      expect(Math.abs(Number(row['DISTANCE mm']) - distance)).toBeLessThan(6e-4);
      expect(row.ORDER).toMatch(/^[+-]\d+$/);
      expect(Number(row.ORDER)).toBe(patch.order ?? 1);
      expect(row['FRINGES AT NULL']).toBe(patch.bias ? `${patch.bias.shape} ${patch.bias.fringes}` : '-');
      const phase = scenePhase(DRAWN_SCENE, id);
      const least = Math.min(
        ...placesIn(patch, 8).map(([u, v]) => 1000 / Math.hypot(...slopeOf(phase, u, v))),
      );
      expect(Math.abs(Number(row['PERIOD min, um']) / least - 1)).toBeLessThan(3e-3);
    },
  );

  test('have each centre’s ordinates at their place, x along the top or bottom, y at a side', () => {
    const dimensions = words.filter(({ layer }) => layer === 'DIMENSIONS');
    const half = LETTERING / 2; // which stands beside its line
    for (const { centre } of DRAWN_SCENE.patches) {
      const [x, y] = [0, 1].map((axis) =>
        dimensions.find(
          ({ text, turned }) => text === `(${centre[axis as 0 | 1]})` && turned === (axis === 0),
        ),
      );
      expect(x!.x - half).toBeCloseTo(centre[0], 6);
      expect(Math.abs(x!.y)).toBeGreaterThan(69);
      expect(y!.y + half).toBeCloseTo(centre[1], 6);
      expect(Math.abs(y!.x)).toBeGreaterThan(86);
    }
    const said = (text: string, turned: boolean) =>
      dimensions.find((word) => word.text === text && word.turned === turned)!;
    expect(said('x = 0', true).x - half).toBeCloseTo(0, 6);
    expect(said('y = 0', false).y + half).toBeCloseTo(0, 6);
    expect(said('-86', true).x - half).toBeCloseTo(-86, 6);
    expect(said('-69', false).y + half).toBeCloseTo(-69, 6);
    expect(said('172', false)).toBeDefined();
    expect(said('138', true)).toBeDefined();
  });

  test('have a caption beside its own patch, by the number of its row', () => {
    const captions = words.filter(({ layer }) => layer === 'CAPTIONS');
    expect(captions.map(({ text }) => text)).toEqual(
      DRAWN_SCENE.patches.map(({ id }, k) => `${k + 1} ${id}`),
    );
    captions.forEach(({ x, y, text }, k) => {
      const middle: Point = [x + HALF_ADVANCE * text.length, y + LETTERING / 2];
      const away = DRAWN_SCENE.patches.map((patch) => outsideBy(patch, middle));
      expect(away.indexOf(Math.min(...away)), text).toBe(k);
    });
  });

  test('have a title block with the facts of the scene', () => {
    const fields = fieldsBeside(words, 'TITLE');
    const { substrate, process, light } = DRAWN_SCENE as unknown as Record<string, Record<string, number>>;
    const { minFeature, dutyCycle, placement } = process!;
    const table = createHash('sha256').update(files.get('coefficients.csv')!).digest('hex');
    expect(fields.get('TITLE')).toBe(DRAWN_SCENE.title);
    expect(fields.get('NUMBER')).toBe(
      `${DRAWING.number}, REVISION ${DRAWING.revision}, ${DRAWING.date}, SHEET ${DRAWING.page}`,
    );
    expect(fields.get('DOCUMENT')).toMatch(`${DRAWING.documentType}: `);
    expect(fields.get('OWNER')).toBe(
      `${DRAWING.owner}, CREATOR ${DRAWING.creator}, APPROVER ${DRAWING.approver}`,
    );
    // Zones: as stated, by the left edge and the bottom edge; and twice the standard uncertainty of 0.1 um on either side.
    expect(fields.get('POSITION')).toBe(
      `Ø${process!.positionToEdge} CZ A B all together, to the edge Ø${4 * placement!} CZ to each other: 2 u of placement`,
    );
    expect(fields.get('DATUMS')).toMatch(/^A: the left edge. B: the bottom edge. /);
    expect(fields.get('VIEW')).toMatch(
      /^SEEN FROM PART SIDE - PATTERN SURFACE TOWARD VIEWER x right, y up; seen along -z, against the light/,
    );
    expect(fields.get('PATTERN')).toMatch(/^side up/);
    expect(fields.get('SUBSTRATE')).toBe(
      `172 x 138, index 1.457, thickness ${substrate!.thickness}; edge margin ${substrate!.edgeMargin}, smallest gap between patterns ${substrate!.clearance}`,
    );
    expect(fields.get('PROCESS')).toMatch(/^amplitude pattern \(chrome\), /);
    for (const [k, value] of [minFeature! * 1000, dutyCycle!, placement! * 1000].entries())
      expect(numbersIn(fields.get('PROCESS')!)[k]).toBeCloseTo(value, 9);
    expect(fields.get('SURFACE')).toContain(`wavelength ${light!.wavelength! * 1000} um in air`);
    expect(fields.get('KEEP-OUTS')).toBe(
      '2 - middle: Ø22 about (3, -23); label: 20 x 6 at 30° about (-60, -45)',
    );
    expect(fields.get('SEATS')).toBe(
      'SEAT 1 east: Ø6 ball at (77, 41), on the face toward the part, footprint Ø8, sphere centre 3 above that face; ' +
        'SEAT 2 west: nest for a Ø12.7 sphere at (-74, 3.5), on the face toward the interferometer, footprint Ø14, sphere centre 9 above that face',
    );
    expect(fields.get('DATUMS')).toContain('left edge at x = -86, bottom edge at y = -69');
    expect([...fields.values()].join(' ')).toContain(`coefficients.csv (SHA-256 ${table.slice(0, 12)})`);
    expect(fields.get('SCENARIO')).toBe(
      `SHA-256 ${HEAD.scenarioHash.slice(0, 12)} - datumlight ${HEAD.version}`,
    );
    expect(fields.get('UNITS')).toMatch(/^mm, angles in degrees - scale 1:1 - sheet A\d/);
  });
});

test('the words of layout.pdf are those of layout.svg', () => {
  expect(pdfWords(pdf!)).toEqual(DRAWINGS[0][1].map(({ text }) => text));
});

describe('the outlines of layout.dxf', () => {
  const { entities } = readDxf(dxf!);
  const onLayer = (layer: string, owner?: string): ReadEntity[] =>
    entities.filter(
      (entity) =>
        entity.type !== 'TEXT' &&
        firstOf(entity, 8) === layer &&
        (owner === undefined || valuesOf(entity, 1000)[0] === owner),
    );
  const circles = (found: readonly ReadEntity[]): number[][] =>
    found.map((entity) => [10, 20, 40].map((code) => Number(firstOf(entity, code))));
  const corners = (entity: ReadEntity): Point[] =>
    valuesOf(entity, 10).map((x, k): Point => [Number(x), Number(valuesOf(entity, 20)[k])]);

  /** The same corners, from any of them on, counterclockwise as seen from the part side. */
  function expectCorners(found: readonly Point[], wanted: readonly Point[]): void {
    expect(found).toHaveLength(wanted.length);
    const first = found.findIndex(([x, y]) => Math.hypot(x - wanted[0]![0], y - wanted[0]![1]) < ROUNDING);
    expect(first).toBeGreaterThanOrEqual(0);
    wanted.forEach(([x, y], k) => {
      const [u, v] = found[(first + k) % found.length]!;
      expect(Math.hypot(u - x, v - y)).toBeLessThan(ROUNDING);
    });
  }

  test.each(DRAWN_SCENE.patches.map((patch) => [patch.id, patch] as const))(
    'have the patch %s',
    (id, patch) => {
      const found = onLayer('PATCHES', id);
      const { circle, ring } = patch.outline;
      if (circle) expect(circles(found)).toEqual([[...patch.centre, circle.diameter / 2]]);
      else if (ring)
        expect(circles(found).sort((a, b) => a[2]! - b[2]!)).toEqual([
          [...patch.centre, ring.inner / 2],
          [...patch.centre, ring.outer / 2],
        ]);
      else expectCorners(corners(found[0]!), edgePoints(patch));
    },
  );

  test('have substrate, keep-outs and seats', () => {
    expectCorners(corners(onLayer('SUBSTRATE')[0]!), [
      [-86, -69],
      [86, -69],
      [86, 69],
      [-86, 69],
    ]);
    const keepOuts = onLayer('KEEP_OUTS');
    expect(circles(keepOuts.filter(({ type }) => type === 'CIRCLE'))).toEqual([[3, -23, 11]]);
    const label: PatchWords = {
      ...patchWords(DRAWN_SCENE, 'slab'),
      centre: [-60, -45],
      outline: { rectangle: { width: 20, height: 6, rotation: 30 } },
    };
    expectCorners(corners(keepOuts.find(({ type }) => type !== 'CIRCLE')!), edgePoints(label));
    expect(circles(onLayer('SEATS'))).toEqual([
      [77, 41, 4],
      [-74, 3.5, 7],
    ]);
  });

  test('show the line of each line focus at its angle, in its patch', () => {
    const lines = onLayer('FOCUS_LINES').map((entity) => {
      const [x, y, u, v] = [10, 20, 11, 21].map((code) => Number(firstOf(entity, code)));
      return { from: [x!, y!] as Point, to: [u!, v!] as Point };
    });
    for (const patch of DRAWN_SCENE.patches) {
      const own = lines.filter(({ from, to }) => outsideBy(patch, from) < 0 && outsideBy(patch, to) < 0);
      const along = own.filter(({ from, to }) => {
        const angle = (Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI - (patch.lineAngle ?? 0);
        return Math.abs(Math.sin((angle * Math.PI) / 180)) < 1e-8;
      });
      if (patch.focus === 'line') expect(along.length).toBeGreaterThanOrEqual(2);
      else if (patch.outline.circle) expect(own).toEqual([]);
    }
  });
});

test('layout.svg and layout.pdf have the corners of the turned patch too, upright', () => {
  const path = readXml(svg!).find(({ attributes }) => attributes.get('data-id') === 'ridge')!;
  const inSvg = [path.attributes.get('d')!];
  const inPdf = [...pdf!.matchAll(/^.* l s$/gm)].map(([line]) => line);
  const holds = (line: string, [x, y]: Point): boolean =>
    numbersIn(line).some(
      (value, k, all) => Math.abs(value - x) < ROUNDING && Math.abs(all[k + 1]! - y) < ROUNDING,
    );
  for (const lines of [inSvg, inPdf])
    expect(
      lines.some((line) =>
        edgePoints(patchWords(DRAWN_SCENE, 'ridge')).every((corner) => holds(line, corner)),
      ),
    ).toBe(true);
  // Millimetres to points, y up, nothing mirrored.
  const matrix = /stream\n(\S+) (\S+) (\S+) (\S+) \S+ \S+ cm/.exec(pdf!)!.slice(1).map(Number);
  for (const [k, value] of [72 / 25.4, 0, 0, 72 / 25.4].entries()) expect(matrix[k]).toBeCloseTo(value, 6);
});

test('coefficients.html prints the closed forms of the table, patch by patch', () => {
  const page = files.get('coefficients.html')!;
  const text = (markup: string): string =>
    markup
      .replace(/<[^>]*>/g, ' ')
      .replace(
        /&(lt|gt|amp|quot|#39);/g,
        (_, name: string) => ({ lt: '<', gt: '>', amp: '&', quot: '"', '#39': "'" })[name]!,
      );
  const sections = page.split('<section class="patch"').slice(1).map(text);
  const json = files.get('coefficients.json')!;
  jsonPatches(json).forEach(({ id, closedForm }, k) => {
    expect(sections[k]).toContain(id);
    for (const words of [closedForm.formula, closedForm.incident, closedForm.leaving, closedForm.bias])
      expect(sections[k]).toContain(words);
  });
  for (const line of headOf(json).split('\n')) expect(text(page)).toContain(line.trim());
});

test('sheet.html names the laser class by the power and the wavelength', () => {
  // IEC 60825-1 at 633 nm, continuous: class 2 ends at 1 mW, 3R at 5 mW; the scene has 2 mW.
  const sheet = files.get('sheet.html')!.replace(/\s+/g, ' ');
  expect(sheet).toMatch(/power of 2(?:\.0*)? mW alone, a continuous beam is of class 3R:/);
});
