/** Scenarios for the fuzz, as bytes: by grammar, with branches changed, with bytes changed, from the examples; complete, open or swept. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { parse, stringify } from 'yaml';
import { scenario } from './fuzz-grammar.ts';
import { withBranchesChanged, withBytesChanged } from './fuzz-mutation.ts';
import { openScenario, soundScenario } from './run.ts';

export const bytesOf = (text: string): Uint8Array => Buffer.from(text);
/** JSON is YAML too. */
export const written = (tree: fc.Arbitrary<object>): fc.Arbitrary<Uint8Array> =>
  fc
    .tuple(tree, fc.boolean())
    .map(([value, json]) => bytesOf(json ? JSON.stringify(value, undefined, 1) : stringify(value)));

const examples = readdirSync('examples').filter((name) => name.endsWith('.yaml'));
const texts = [soundScenario(), ...examples.map((name) => readFileSync(join('examples', name), 'utf8'))];
/** The small one more often: it takes a third of the time. */
const exampleText = fc.oneof(
  { weight: 1, arbitrary: fc.constant(texts[0]!) },
  { weight: 1, arbitrary: fc.constantFrom(...texts) },
);
const exampleTree = exampleText.map((text) => parse(text) as object);

/** A scenario's bytes: sound or not, or no scenario at all. */
export const anyScenario: fc.Arbitrary<Uint8Array> = fc.oneof(
  { weight: 10, arbitrary: written(scenario) },
  { weight: 4, arbitrary: written(withBranchesChanged(scenario)) },
  { weight: 4, arbitrary: withBytesChanged(written(scenario), 4) },
  { weight: 3, arbitrary: written(withBranchesChanged(exampleTree)) },
  { weight: 3, arbitrary: withBytesChanged(exampleText.map(bytesOf), 4) },
  { weight: 1, arbitrary: fc.uint8Array({ maxLength: 300 }) },
);

/** By grammar, mostly usable: for a command whose other input is the one that is tried. */
export const mostlyUsable: fc.Arbitrary<Uint8Array> = written(scenario);

/** What may be left open in a patch of the grammar. */
const OPENINGS = ['centre', 'outline', 'lineAngle'] as const;
interface Loose {
  readonly patches: readonly Record<string, unknown>[];
  readonly references: readonly Record<string, unknown>[];
}

/** By grammar, with places left open: two patches at most, since each more takes a second. */
const opened: fc.Arbitrary<object> = fc
  .record({
    whole: scenario as fc.Arbitrary<Loose>,
    open: fc.uniqueArray(fc.constantFrom(...OPENINGS), { minLength: 1 }),
    // A number of patches left open costs the most, up to more than a minute.
    reference: fc.oneof(
      { weight: 18, arbitrary: fc.constant<object>({}) },
      {
        weight: 2,
        arbitrary: fc.constantFrom<object[]>(
          { use: 'auto' },
          { patches: 'auto' },
          { use: 'auto', patches: 'auto' },
        ),
      },
    ),
    size: fc.constantFrom(undefined, { most: 14 }, { least: 4 }, { least: 9, most: 3 }),
  })
  .map(({ whole, open, reference, size }) => {
    const [first, ...others] = whole.patches;
    const autos = Object.fromEntries(open.filter((key) => key in first!).map((key) => [key, 'auto']));
    const sized = open.includes('outline') && size !== undefined ? { size } : {};
    return {
      ...whole,
      patches: [{ ...first, ...autos, ...sized }, ...others.slice(0, 1)],
      references: whole.references.map((each, k) => (k === 0 ? { ...each, ...reference } : each)),
    };
  });

/** For `plan`. */
export const anyOpenScenario: fc.Arbitrary<Uint8Array> = fc.oneof(
  { weight: 6, arbitrary: written(opened) },
  { weight: 2, arbitrary: written(withBranchesChanged(opened)) },
  { weight: 2, arbitrary: written(withBranchesChanged(fc.constant(parse(openScenario()) as object))) },
  { weight: 2, arbitrary: withBytesChanged(fc.constant(bytesOf(openScenario())), 4) },
  { weight: 1, arbitrary: anyScenario },
);

/** Swept scenarios of few cases, each with the table that it may name. */
export const swept = (sweeps: fc.Arbitrary<object>): fc.Arbitrary<Uint8Array> =>
  written(
    sweeps.map((sweep) => ({
      ...(parse(soundScenario()) as object),
      parameters: { a: '60 mm', b: '12 mm' },
      sweep,
    })),
  ).map((bytes) =>
    bytesOf(
      Buffer.from(bytes)
        .toString('utf8')
        .replace(/centre:\s*(\[\s*60,\s*0\s*\]|\n\s*- 60\n\s*- 0)/, 'centre: [a, 0]')
        .replace(/"centre": \[\s*60,\s*0\s*\]/, '"centre": ["a", 0]'),
    ),
  );
