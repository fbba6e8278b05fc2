/** The date that SOURCE_DATE_EPOCH names (seconds since 1970, UTC; the convention of reproducible builds), such as 2026-01-31. */

/** Undefined where the variable is not set or no whole number of seconds that a date can have. */
export function sourceDate(env: NodeJS.ProcessEnv): string | undefined {
  const given = env.SOURCE_DATE_EPOCH;
  if (given === undefined || !/^\d{1,11}$/.test(given)) return undefined;
  return new Date(Number(given) * 1000).toISOString().slice(0, 10);
}
