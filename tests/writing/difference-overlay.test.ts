/** Two layouts over each other: at true scale, one frame for both, a strip above for the words, each in one colour with ids of its own. */
import { expect, test } from 'vitest';
import { layoutOverlay } from '../../src/writing/difference/difference-overlay.ts';

const layout = (box: string, content: string): string =>
  `<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" viewBox="${box}">\n<title>t</title><desc>d</desc>` +
  `<rect id="SHEET" fill="#fff"/>${content}</svg>\n`;
const before = layout(
  '-100 -80 200 160',
  '<g id="PATCHES" stroke="#123456"><circle fill="#abc" cx="1"/></g>',
);
const after = layout('-90 -85 200 190', '<g id="PATCHES" stroke="#123456"><circle fill="none" cx="2"/></g>');

test('the page is as large as both, and a fortieth higher for the words', () => {
  const svg = layoutOverlay('case & co', before, after)!;
  // From -100 to 110 across, from -85 to 105 down: 210 by 190; the strip is 190/40.
  const [, head] = /<svg ([^>]*)>/.exec(svg)!;
  const value = (name: string): string | undefined => new RegExp(` ${name}="([^"]*)"`).exec(` ${head}`)?.[1];
  expect([value('width'), value('height')]).toEqual(['210mm', '194.75mm']);
  expect(value('viewBox')).toBe('-100 -89.75 210 194.75');
  expect(svg).toMatch(/<rect x="-100" y="-89.75" width="210" height="194.75" fill="#ffffff"\/>/);
  const [, x, y, size] = /<text x="([^"]*)" y="([^"]*)" font-size="([^"]*)">/.exec(svg)!.map(Number);
  expect([x, y, size]).toEqual([-97.625, expect.closeTo(-86.5833, 4), 2.375]);
  expect(svg).toContain(
    '<title id="overlay-title">case &amp; co: old layout in red, new layout in blue</title>',
  );
});

test('old and new stand in groups of their own, in their colours, unmoved', () => {
  const svg = layoutOverlay('case', before, after)!;
  const groups = [...svg.matchAll(/<g id="(old|new)" [^>]*>\n([\s\S]*?)\n<\/g>/g)];
  expect(groups.map(([, name]) => name)).toEqual(['old', 'new']);
  const [old, fresh] = groups.map(([, , content]) => content);
  const [red, blue] = [...svg.matchAll(/<tspan fill="(#[0-9a-f]+)">(old|new)</g)].map(([, colour]) => colour);
  expect(old).toBe(`<g id="old-PATCHES" stroke="${red}"><circle fill="${red}" cx="1"/></g>`);
  expect(fresh).toBe(`<g id="new-PATCHES" stroke="${blue}"><circle fill="none" cx="2"/></g>`);
  const part = (colour: string, at: number): number => Number.parseInt(colour.slice(at, at + 2), 16);
  expect([part(red, 1) > part(red, 5), part(blue, 5) > part(blue, 1)]).toEqual([true, true]);
});

test('what is no layout of ours has no overlay', () => {
  expect(layoutOverlay('case', '<svg viewBox="wide"></svg>', after)).toBeUndefined();
  expect(layoutOverlay('case', before, 'edited by hand')).toBeUndefined();
});

test.each([
  '<script>alert(1)</script>',
  '<circle cx="1" onload="alert(1)"/>',
  '<image href="http://example.invalid/x"/>',
  '<foreignObject><p>x</p></foreignObject>',
  '<!-- a comment -->',
  '<g style="background:url(x)"></g>',
  '<path d="M 0 0"',
])('what no layout of ours has is not laid over the new one: %s', (more) => {
  expect(layoutOverlay('case', layout('0 0 1 1', more), after)).toBeUndefined();
});
