/** The overview of a batch: the hologram alone in each picture, plots over what was swept, and wishes in summary.csv. */
import { expect, test } from 'vitest';
import { type BatchRow, figuresWithout } from '../../src/writing/batch/batch-row.ts';
import { summaryCsv } from '../../src/writing/batch/batch-summary.ts';
import { overviewPage } from '../../src/writing/batch/overview-page.ts';

const row = (index: number, rim: number, more: Partial<BatchRow> = {}): BatchRow => ({
  ...figuresWithout('fine', []),
  ...{ index, name: `s/${index}`, file: 's.yaml', case: String(index), written: true },
  parameters: [{ name: 'rim', value: rim, unit: 'mm' }],
  minPeriod_um: 4 + index,
  extent_mm: [-75, -50, 75, 50],
  ...more,
});

test('a picture shows the substrate with 6 % of its longer side around it, in the drawing’s coordinates', () => {
  // 150 x 100 mm: 9 mm around; y runs down in the drawing.
  expect(overviewPage([row(1, 100)])).toContain('s/1/layout.svg#svgView(viewBox(-84,-59,168,118))');
});

test('a figure is plotted over a swept parameter, in proportion between the ends of its axes', () => {
  const page = overviewPage([row(1, 100), row(2, 101), row(5, 104, { outcome: 'broken' })]);
  const dots = [...page.matchAll(/<circle cx="([^"]+)" cy="([^"]+)"/g)].map(([, x, y]) => [
    Number(x),
    Number(y),
  ]);
  const [, x, y] = /<path d="M(\S+) (\S+)l6 6/.exec(page)!.map(Number);
  const cross = [x! + 3, y! + 3];
  expect(dots).toHaveLength(2);
  // A quarter of the way from the first to the last, along either axis: rims 100, 101, 104 and periods 5, 6, 9.
  for (const axis of [0, 1])
    expect((dots[1]![axis]! - dots[0]![axis]!) / (cross[axis]! - dots[0]![axis]!)).toBeCloseTo(0.25, 2);
  expect(page).toContain('minimum period, µm over rim, mm');
});

test('nothing swept, nothing plotted', () => {
  expect(overviewPage([row(1, 100), row(2, 100)])).not.toContain('<figure>');
});

test('summary.csv has every degree against its wish, empty where there is none', () => {
  const none = { x: null, y: null, z: null, rx: null, ry: null, rz: null };
  const [head, line] = summaryCsv([
    row(1, 100, { reached: { ...none, x: 4, rz: 30 }, wanted: { ...none, x: 10 } }),
  ]).split('\n');
  const values = Object.fromEntries(head!.split(',').map((name, k) => [name, line!.split(',')[k]]));
  expect(values).toMatchObject({
    x_reached_um: '4',
    x_wanted_um: '10',
    rz_reached_urad: '30',
    rz_wanted_urad: '',
    z_reached_um: '',
  });
});
