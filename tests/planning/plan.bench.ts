/** How long a plan takes as references grow in number: SMRs about a mirror, a 200 mm substrate, all patches open. */
import { bench, describe } from 'vitest';
import { finished, openFrom } from './support/open-scenario.ts';

function mirrorWith(count: number): string {
  const references = Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * k) / count;
    const ring = 240 + 30 * (k % 3);
    const at = [ring * Math.cos(angle), ring * Math.sin(angle), -20 + 15 * (k % 2)].map((v) =>
      Number(v.toFixed(3)),
    );
    return { id: `r${k + 1}`, kind: 'smr', diameter: '1.5 in', at, frame: 'part', patches: 'auto' };
  });
  return JSON.stringify({
    format: 'datumlight/1',
    light: { wavelength: '632.8 nm' },
    interferometer: { focus: [0, 0, 1500], fNumber: 6, pixelsAcrossBeam: 2000 },
    substrate: {
      outline: { circle: { diameter: 200 } },
      thickness: 9,
      glass: 'fused silica',
      patternFaces: 'interferometer',
      edgeMargin: 3,
      clearance: 0.5,
    },
    keepOuts: [{ id: 'main', outline: { circle: { diameter: 110 } } }],
    part: { origin: [0, 0, 2600] },
    references,
    patches: [],
    wanted: { x: '8 um', y: '8 um', z: '100 um', rx: '600 urad', ry: '600 urad', rz: '30 urad' },
  });
}

describe('plan', () => {
  for (const count of [4, 8, 12, 24, 48]) {
    const { scenario, open } = openFrom(mirrorWith(count));
    bench(`${count} references`, () => void finished(scenario, open), {
      iterations: 1,
      warmupIterations: 0,
      time: 0,
    });
  }
});
