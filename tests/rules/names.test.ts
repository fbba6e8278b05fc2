/**
 * The name of a thing switches no check on or off: with every id and the title changed, to the same names for things of different
 * lists, a design has the same findings.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { applyRules } from '../../src/rules/all-rules.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';
import { balls, planned } from '../planning/support/open-scenario.ts';

type Named = Words & { readonly id: string };

const text = (name: string): string => readFileSync(new URL(`../../${name}`, import.meta.url), 'utf8');

/** `x1`, `x2` … in each list anew, whatever it lists. */
function renamed(words: Words): Words {
  const ids = (list: unknown): ReadonlyMap<unknown, string> =>
    new Map(((list ?? []) as readonly Named[]).map(({ id }, k) => [id, `x${k + 1}`]));
  const references = ids(words.references);
  const part = (words.part ?? {}) as { readonly datums?: Readonly<Record<string, unknown>> };
  const datums = new Map(Object.keys(part.datums ?? {}).map((id, k) => [id as unknown, `x${k + 1}`]));
  const list = (key: string, change: (one: Named) => Words = (one) => one): Words =>
    words[key] === undefined
      ? {}
      : {
          [key]: (words[key] as readonly Named[]).map((one) => ({
            ...change(one),
            id: ids(words[key]).get(one.id),
          })),
        };
  const toDatum = (one: Named): Words => ({
    ...one,
    ...(one.datum === undefined ? {} : { datum: datums.get(one.datum) }),
    ...(one.touches === undefined
      ? {}
      : {
          touches: (one.touches as readonly Words[]).map((touch) => ({
            ...touch,
            datum: datums.get(touch.datum),
          })),
        }),
  });
  const toReference = (one: Named): Words => ({ ...one, reference: references.get(one.reference) });
  return {
    ...words,
    title: 'x1',
    part: {
      ...part,
      datums: Object.fromEntries(
        Object.entries(part.datums ?? {}).map(([id, datum]) => [datums.get(id), datum]),
      ),
    },
    ...list('references', toDatum),
    ...list('patches', toReference),
    ...list('measurements', toReference),
    ...list('keepOuts'),
    ...list('seats'),
    ...list('obstacles'),
  };
}

const told = (words: Words) =>
  applyRules(designFrom(words)).map(({ rule, severity, value, limit, path }) => {
    return { rule, severity, value, limit, path };
  });

describe('the findings of a design', () => {
  test.each([
    'examples/broken-rules.yaml',
    'examples/converging-retroreflectors.yaml',
    'examples/full-bench.yaml',
    'tests/end-to-end/practitioner.yaml',
  ])('%s, with other names', (name) => {
    const words = parse(text(name)) as Words;
    const before = told(words);
    expect(told(renamed(words))).toEqual(before);
  });

  test('a design with mistakes of touches, with other names', () => {
    const mistaken = text('tests/end-to-end/practitioner.yaml')
      .replace('normal: [0, 0, -1]', 'normal: [0, 0, 1]')
      .replace('azimuth: 330 deg', 'azimuth: 214 deg');
    const words = parse(mistaken) as Words;
    expect(told(words).filter(({ rule }) => rule === 'collision').length).toBeGreaterThanOrEqual(3);
    expect(told(renamed(words))).toEqual(told(words));
  });
});

// A seat past the edge of the glass is an error whatever is planned; no patch can mend it.
test.each(['b1-1', 'elsewhere'])('a plan beside a seat named %s', (id) => {
  const seat = { id, kind: 'ball', diameter: 12, at: [-71, 0], face: 'interferometer' };
  const open = balls(2, { patches: 'auto' });
  const { planned: patches } = planned({ references: open, seats: [seat], wanted: { x: '40 um' } });
  const plain = planned({ references: open, seats: [{ ...seat, id: 'other' }], wanted: { x: '40 um' } });
  const places = (all: typeof patches) => all.map(({ patch }) => [patch.id, patch.centre, patch.outline]);
  expect(patches.map(({ patch }) => patch.id)).toContain('b1-1');
  expect(places(patches)).toEqual(places(plain.planned));
});
