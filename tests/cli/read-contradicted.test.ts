/** An orientation that is stated and that the outlines plainly show to be another one: it is believed, and contradicted by name. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { png } from '../reading/frames/frame-bytes.ts';
import { designOf, greyOf, inProcess, MIRROR } from './support/frames.ts';
import { folder } from './support/run.ts';

let frame: string;
beforeAll(() => {
  frame = join(folder(), 'frame.png');
  writeFileSync(frame, png(greyOf(designOf(MIRROR)), 8));
});

test('a camera wrongly stated to be turned is believed, and contradicted by what the outlines show', async () => {
  const { stdout, stderr } = await inProcess(['read', MIRROR, frame, '--turned', '90']);
  expect(stdout).toMatch(/camera {2}seen from the interferometer, turned 90° clockwise.*\(as stated\)/);
  expect(stderr).toContain(
    'the picture is read as stated, seen from the interferometer, turned 90° clockwise; its outlines fit one seen from the interferometer',
  );
  expect(stderr).toContain('check --bench, --view, --turned and --mirrored before you move anything');
});

test('the orientation that the outlines show is not contradicted', async () => {
  const { stderr } = await inProcess(['read', MIRROR, frame, '--view', 'interferometer']);
  expect(stderr).not.toContain('as stated');
});
