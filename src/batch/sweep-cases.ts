/** The cases of a sweep, in order: values outermost (the last list varies fastest), then cases, then draws. */
import { randomFrom } from '../algebra/random.ts';
import { written } from '../reading/scenario/build-sweep.ts';
import type { Draws, Sweep, SweptCase, SweptValue } from '../scenario/sweep.ts';

interface SweepCase {
  /** As the scenario names it, or its number from 1 with leading zeros. */
  readonly name: string;
  readonly overrides: readonly (readonly [parameter: string, value: SweptValue])[];
}

type Setting = readonly (readonly [parameter: string, value: SweptValue])[];

/** `listed` are the sweep's cases, from the scenario or from its table. */
export function sweepCases(sweep: Sweep, listed: readonly SweptCase[] | undefined): readonly SweepCase[] {
  let settings: Setting[] = [[]];
  for (const { parameter, values } of sweep.values) {
    settings = settings.flatMap((setting) =>
      values.map((value) => [...setting, [parameter, value] as const]),
    );
  }
  const draws = sweep.draws === undefined ? [[]] : drawn(sweep.draws);
  const named: { name: string | undefined; overrides: Setting }[] = [];
  for (const setting of settings) {
    for (const { name, values } of listed ?? [{ name: undefined, values: [] }]) {
      for (const draw of draws) named.push({ name, overrides: [...setting, ...values, ...draw] });
    }
  }
  // A name alone tells a case only where cases are all that varies.
  const alone = settings.length === 1 && draws.length === 1;
  const digits = String(named.length).length;
  return named.map(({ name, overrides }, k) => {
    const number = String(k + 1).padStart(digits, '0');
    return { name: name === undefined ? number : alone ? name : `${number}-${name}`, overrides };
  });
}

/** One stream of random numbers for each parameter, so that a parameter more or less leaves the others as they are. */
function drawn({ count, seed, laws }: Draws): readonly Setting[] {
  const streams = laws.map(({ parameter }) => randomFrom(`sweep ${seed} ${parameter}`));
  return Array.from({ length: count }, () =>
    laws.map(({ parameter, unit, law }, k) => {
      const value =
        law.kind === 'uniform'
          ? law.from + (law.to - law.from) * streams[k]!.uniform()
          : law.mean + law.deviation * streams[k]!.normal();
      return [parameter, written(value, unit)] as const;
    }),
  );
}
