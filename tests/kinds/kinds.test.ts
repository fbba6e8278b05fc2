/** The table of kinds of reference against the scenario's schema, and what its entries must have for each other. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import schema from '../../schemas/scenario.schema.json' with { type: 'json' };
import { KINDS, kindNamed, kindOf } from '../../src/kinds/kinds.ts';

describe('the table of kinds', () => {
  it('has the kinds and the foci that the schema lets through, in its order', () => {
    const { reference, patch } = schema.$defs;
    expect(KINDS.map(({ kind }) => kind)).toEqual(reference.properties.kind.enum);
    expect([...new Set(KINDS.flatMap(({ inScenario }) => inScenario.foci))]).toEqual(
      patch.properties.focus.enum,
    );
  });

  it('has every kind that a file of src/kinds exports', () => {
    const exported = readdirSync('src/kinds').flatMap((file) => [
      ...readFileSync(`src/kinds/${file}`, 'utf8').matchAll(/^export const \w+: Kind</gm),
    ]);
    expect(exported).toHaveLength(KINDS.length);
  });

  it('finds each by its name, and nothing by another', () => {
    for (const kind of KINDS) expect(kindOf(kind)).toBe(kind);
    expect(kindNamed('constructor')).toBeUndefined();
    expect(() => kindOf({ kind: 'mirror' })).toThrow(RangeError);
  });

  it.each(KINDS)(
    'says of a $kind what its way of being read needs',
    ({ read, words, reflectance, errors, planning }) => {
      const counted = read === 'senses';
      expect(reflectance !== undefined).toBe(counted);
      expect(errors !== undefined).toBe(counted);
      expect(words.noCount === undefined).toBe(read !== 'mark');
      expect(words.returned !== undefined).toBe(counted || read === 'modes');
      expect(planning.by === 'patches').toBe(counted || read === 'mark');
    },
  );
});
