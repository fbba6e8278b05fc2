/** An input of the fuzz: argv, what comes on stdin, files beside; and how options are put to it. */
import fc from 'fast-check';
import { bytesOf } from './fuzz-scenarios.ts';

/** A command as the tally counts it: one word for each manner of use that has outcomes of its own. */
export type Use =
  | 'check'
  | 'make'
  | 'draft'
  | 'plan'
  | 'fringes'
  | 'steer'
  | 'read'
  | 'transfer'
  | 'record'
  | 'recheck'
  | 'phase'
  | 'table'
  | 'batch'
  | 'verify'
  | 'gather'
  | 'words';

export interface Asked {
  readonly use: Use;
  /** `@/` stands for the folder that the inputs lie in. */
  readonly argv: readonly string[];
  /** What comes on stdin. */
  readonly input: Uint8Array;
  /** Files put into that folder, by their paths in it. */
  readonly files: Readonly<Record<string, Uint8Array>>;
}

export type Made = Omit<Asked, 'use'>;
export const NOTHING = bytesOf('');
export const fromStdin = (bytes: fc.Arbitrary<Uint8Array>, ...argv: readonly string[]): fc.Arbitrary<Made> =>
  bytes.map((input) => ({ argv, input, files: {} }));

/** Two inputs: the scenario on stdin, the other in a file. */
export const both = (
  scenario: fc.Arbitrary<Uint8Array>,
  name: string,
  other: fc.Arbitrary<Uint8Array>,
  ...argv: readonly string[]
): fc.Arbitrary<Made> =>
  fc.tuple(scenario, other).map(([input, bytes]) => ({ argv, input, files: { [name]: bytes } }));

export type Options = fc.Arbitrary<readonly string[]>;
/** Each option there or not. */
export const some = (...options: readonly Options[]): Options =>
  fc
    .tuple(
      ...options.map((option) =>
        fc.oneof({ weight: 3, arbitrary: fc.constant([]) as Options }, { weight: 1, arbitrary: option }),
      ),
    )
    .map((all) => all.flat());
export const flag = (name: string): Options => fc.constant([name]);
/** An option with its value, now and then a wrong one. */
export const given = (name: string, sound: fc.Arbitrary<string>, ...faults: readonly string[]): Options =>
  fc
    .oneof(
      { weight: 8, arbitrary: sound },
      { weight: faults.length > 0 ? 1 : 0, arbitrary: fc.constantFrom('', ...faults) },
    )
    .map((value) => [name, value]);
export const withOptions = (made: fc.Arbitrary<Made>, options: Options): fc.Arbitrary<Made> =>
  fc.tuple(made, options).map(([one, more]) => ({ ...one, argv: [...one.argv, ...more] }));
/** Mostly as a document; else as a person reads it. */
export const json: Options = fc.oneof(
  { weight: 3, arbitrary: flag('--json') },
  { weight: 1, arbitrary: fc.constantFrom<readonly string[]>([], ['--quiet'], ['--no-color']) },
);
