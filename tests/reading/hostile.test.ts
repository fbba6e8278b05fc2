import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MOST_LISTED } from '../../src/finding/listed-findings.ts';
import { renderFinding } from '../../src/finding/render-finding.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { scenarioWith } from './support/scenario-text.ts';
import '../machine/patience.ts';

fc.configureGlobal({ seed: Number(process.env.DATUMLIGHT_FUZZ_SEED ?? 20_011) });

const read = (text: string) => readScenario(text, 'a.yaml');
const codes = (text: string) => read(text).findings.map(({ rule }) => rule);
const everyWord = readFileSync(new URL('every-word.yaml', import.meta.url), 'utf8');

describe('texts made to harm', () => {
  test('a bomb of aliases does not go off', () => {
    const levels = Array.from(
      { length: 30 },
      (_, i) => `a${i + 1}: &a${i + 1} [${Array(10).fill(`*a${i}`).join(', ')}]`,
    );
    expect(codes(`a0: &a0 [x]\n${levels.join('\n')}\n`)).toEqual(['runaway-aliases']);
    const merged = Array.from({ length: 30 }, (_, i) => `a${i + 1}: &a${i + 1} {l: *a${i}, r: *a${i}}`);
    expect(codes(`a0: &a0 {x: 1}\n${merged.join('\n')}\n`)).toEqual(['runaway-aliases']);
  });

  test('many patches may share one outline', () => {
    const shared = Array.from(
      { length: 2000 },
      (_, i) => `  - {id: p${i}, reference: r, focus: point, centre: [0, 60], outline: *o}`,
    );
    const patches = `\n  - {id: first, reference: r, focus: point, centre: [0, 60], outline: &o {circle: {diameter: 3}}}\n${shared.join('\n')}`;
    expect(read(scenarioWith({ patches })).scenario?.patches).toHaveLength(2001);
  });

  test.each([
    ['brackets', '['.repeat(50_000)],
    ['braces', '{a: '.repeat(20_000)],
    ['sequences', '- '.repeat(20_000)],
    ['indents', Array.from({ length: 1500 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
  ])('deep nesting of %s ends in a finding', (_, text) => {
    expect(codes(text)[0]).toMatch(/yaml-syntax|unknown-key|wrong-type|missing-key/);
  });

  test('a text of ten megabytes is not read', () => {
    expect(codes(`title: ${'x'.repeat(10 * 1024 * 1024)}`)).toEqual(['file-too-large']);
  });

  test('more faults than anyone reads are counted', () => {
    const patches = `[${Array(3000).fill('{}').join(', ')}]`;
    const { findings } = read(scenarioWith({ patches }));
    expect(findings).toHaveLength(MOST_LISTED + 1);
    expect(findings.at(-1)).toMatchObject({
      rule: 'too-many',
      message: expect.stringMatching(/^and [\d,]+ more: [\d,]+ \S+/),
    });
  });

  test.each([
    ['a zip', 'PK\u0003\u0004\u0000'],
    ['a terminal escape', 'title: \u001b[2J'],
    ['zeros', '\u0000\u0000'],
  ])('%s is no text', (_, text) => {
    const { findings } = read(text);
    expect(findings.map(({ rule }) => rule)).toEqual(['not-text']);
    expect(renderFinding(findings[0]!, text).replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
  });

  test('escapes in quoted texts do not reach the terminal', () => {
    const text = scenarioWith({ id: '"\\e]0;owned\\a"', reference: '"\\e[31mr"' });
    for (const finding of read(text).findings) {
      expect(renderFinding(finding, text).replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
    }
    expect(codes(text)).toEqual(expect.arrayContaining(['bad-id', 'unknown-reference']));
  });

  test.each(['__proto__', 'constructor', 'prototype', 'hasOwnProperty', 'toString'])(
    'the key %s pollutes nothing',
    (key) => {
      const before = Object.keys(Object.prototype);
      expect(codes(scenarioWith({ [key]: '{polluted: true, thickness: 3}' }))).toEqual(['unknown-key']);
      expect(
        codes(scenarioWith({ substrate: `{outline: {circle: {diameter: 9}}, ${key}: {thickness: 3}}` })),
      ).toEqual(['unknown-key']);
      expect(codes(scenarioWith({ outline: `{${key}: {diameter: 3}}` }))).toEqual(['unknown-key']);
      expect(({} as Record<string, unknown>).polluted).toBeUndefined();
      expect(Object.keys(Object.prototype)).toEqual(before);
    },
  );

  test('a datum or parameter may bear the name of an object’s own method', () => {
    const { scenario, findings } = read(
      scenarioWith({
        parameters: '{constructor: 3 mm}',
        part: '{datums: {toString: {point: {at: [constructor, 0, 0]}}}}',
      }),
    );
    expect(findings).toEqual([]);
    expect(scenario?.part.datums).toEqual([{ id: 'toString', kind: 'point', point: [3, 0, 0] }]);
  });

  test('a reference or datum named like an object’s method is still unknown', () => {
    expect(codes(scenarioWith({ reference: 'constructor' }))).toEqual(['unknown-reference']);
  });

  test('a title may hold markup: it is text', () => {
    const title = '<script>alert(1)</script> & "more"';
    expect(read(scenarioWith({ title: JSON.stringify(title) })).scenario?.title).toBe(title);
  });

  test.each([
    'process.exit(1)',
    'import("fs")',
    'constructor.constructor("return process")()',
    '1:1e12',
    '9^9^9^9^9',
    '((((1))))()',
  ])('the expression %s computes nothing', (expression) => {
    const { scenario, findings } = read(scenarioWith({ centre: `[${JSON.stringify(expression)}, 0]` }));
    expect(scenario).toBeUndefined();
    expect(findings).toHaveLength(1);
    expect(findings[0]?.rule).toMatch(/bad-expression|unknown-name|out-of-range/);
  });
});

describe('whatever the text, there is a scenario or an error with a place, and nothing is thrown', () => {
  const outcome = (text: string): void => {
    const { scenario, findings } = read(text);
    const errors = findings.filter(({ severity }) => severity === 'error');
    expect(scenario === undefined).toBe(errors.length > 0);
    for (const finding of findings) {
      if (finding.rule !== 'too-many') expect(finding.place).toBeDefined();
      expect(renderFinding(finding, text)).toContain(finding.rule);
    }
  };

  test('any text', () => {
    fc.assert(fc.property(fc.oneof(fc.string(), fc.string({ unit: 'binary' })), outcome), { numRuns: 300 });
  });

  test('a sound text with a piece cut out, doubled or replaced', () => {
    const junk = fc.constantFrom(
      ...[
        '',
        ' ',
        '\n',
        '[',
        ']',
        '{',
        '}',
        ':',
        '- ',
        '"',
        '&a ',
        '*a',
        '!t ',
        '.nan',
        'null',
        '-1',
        '1e400',
        'x: 1',
        '<<: ',
      ],
    );
    const span = fc.tuple(fc.nat(everyWord.length), fc.nat(30), junk);
    fc.assert(
      fc.property(span, ([start, length, piece]) => {
        outcome(everyWord.slice(0, start) + piece + everyWord.slice(start + length));
        outcome(everyWord.slice(0, start + length) + piece + everyWord.slice(start));
      }),
      { numRuns: 150 },
    );
  });

  test('a sound structure with any one value replaced', () => {
    const sound = {
      format: 'datumlight/1',
      parameters: { a: '1 mm' },
      light: { vacuumWavelength: '633 nm', air: { temperature: 20, pressure: 1e5, humidity: 0.5 } },
      interferometer: { collimated: true, direction: [0, 0, 1], beamDiameter: 100 },
      substrate: { outline: { ring: { inner: 3, outer: 150 } }, thickness: 1, glass: 'N-BK7' },
      keepOuts: [{ id: 'k', outline: { sector: { inner: 0, outer: 9, from: 0, to: 90 } } }],
      part: {
        origin: [0, 0, 900],
        datums: { A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } } },
        envelope: [],
      },
      references: [{ id: 'r', kind: 'smr', diameter: 38.1, touches: [{ datum: 'A', x: 1, y: 2 }] }],
      patches: [
        {
          ...{ id: 'p', reference: 'r', focus: 'line', centre: [0, 60], lineAngle: 30, order: 1 },
          outline: {
            polygon: {
              points: [
                [0, 0],
                [1, 0],
                [0, 1],
              ],
            },
          },
          bias: { shape: 'roof', fringes: 1 },
        },
      ],
      measurements: [{ id: 'm', reference: 'r', direction: [0, 0, 1], uncertainty: 0.001 }],
      wanted: { x: 0.01 },
    };
    const paths = [...pathsOf(sound)];
    const value = fc.oneof(
      fc.constantFrom(
        null,
        true,
        -1,
        0,
        1e9,
        '',
        'a',
        'x',
        '2 deg',
        '1 mm',
        '1/0',
        [],
        {},
        [0, 0],
        [0, 0, 0],
        { circle: {} },
        undefined,
      ),
      fc.jsonValue({ maxDepth: 2 }),
    );
    fc.assert(
      fc.property(fc.constantFrom(...paths), value, (path, replacement) => {
        outcome(JSON.stringify(replaced(sound, path, replacement)));
      }),
      { numRuns: 300 },
    );
  });
});

function* pathsOf(value: unknown, path: readonly string[] = []): Iterable<readonly string[]> {
  if (path.length > 0) yield path;
  if (typeof value !== 'object' || value === null) return;
  for (const [key, part] of Object.entries(value)) yield* pathsOf(part, [...path, key]);
}

function replaced(value: unknown, [step, ...rest]: readonly string[], replacement: unknown): unknown {
  if (step === undefined) return replacement;
  const copy = Array.isArray(value) ? [...value] : { ...(value as object) };
  const record = copy as Record<string, unknown>;
  record[step] = replaced(record[step], rest, replacement);
  return copy;
}
