/**
 * What the schema refuses, as findings: one for each fault, in the scenario's words. A misspelled key is one fault, though
 * the schema sees an unknown key and a missing one.
 */
import type { Code } from '../../finding/codes.ts';
import type { Path } from '../../finding/finding.ts';
import { didYouMean, nearestName } from '../../quantity/nearest-name.ts';
import { type SchemaError, schemaText, validate } from '../generated/validate-scenario.js';
import { isObject } from '../yaml/field.ts';
import { shown, typeOf } from '../yaml/values.ts';

interface SchemaFault {
  readonly code: Code;
  readonly path: Path;
  readonly message: string;
  readonly hint: string;
  /** The fault is the key that the path ends with, not its value. */
  readonly atKey: boolean;
}

interface SchemaVerdict {
  readonly faults: readonly SchemaFault[];
  /** Whether an unknown key of the object at `path` was probably meant to be `key`. */
  readonly misspelled: (path: Path, key: string) => boolean;
}

/** Faults past this are not worth their time. */
const MOST_FAULTS = 2000;

export function checkSchema(data: unknown): SchemaVerdict {
  if (validate(data)) return { faults: [], misspelled: () => false };
  const all = (validate.errors ?? []).filter(isOfClosedData);
  const errors = all.slice(0, MOST_FAULTS);
  const schema: Schema = JSON.parse(schemaText);
  const located = errors.map((error) => ({ error, ...locate(error, data, schema) }));
  const meant = new Map<string, Set<string>>();
  const unknownAt = new Set<string>();
  for (const { error, path, value, subschema } of located) {
    if (error.keyword !== 'additionalProperties') continue;
    const key = String(error.params.additionalProperty);
    unknownAt.add(JSON.stringify(path));
    const nearest = suggestion(key, value, subschema);
    if (nearest === undefined) continue;
    const at = JSON.stringify(path);
    meant.set(at, (meant.get(at) ?? new Set()).add(nearest));
  }
  const misspelled = (path: Path, key: string): boolean =>
    meant.size > 0 && (meant.get(JSON.stringify(path))?.has(key) ?? false);
  const faults = located.flatMap((at): readonly SchemaFault[] => {
    const { keyword, params } = at.error;
    if (keyword === 'required' && misspelled(at.path, String(params.missingProperty))) return [];
    if (keyword === 'maxProperties' && unknownAt.has(JSON.stringify(at.path))) return [];
    return [describe(at)];
  });
  if (all.length === errors.length) return { faults, misspelled };
  const message = `the first ${MOST_FAULTS} of ${all.length} errors of form were examined`;
  const cut: SchemaFault = { code: 'too-many', path: [], message, hint: 'correct these first', atKey: false };
  return { faults: [...faults, cut], misspelled };
}

/** Places left open are closed before the schema sees them: of what may be open only the given form is to be judged. */
const isOfClosedData = ({ keyword, schemaPath }: SchemaError): boolean =>
  keyword !== 'anyOf' && !schemaPath.includes('/anyOf/0/');

interface Schema {
  readonly anyOf?: readonly Schema[];
  readonly title?: string;
  readonly $ref?: string;
  readonly properties?: { readonly [key: string]: Schema };
  readonly additionalProperties?: Schema | false;
  readonly items?: Schema;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly $defs?: { readonly [name: string]: Schema };
}

interface Located {
  readonly error: SchemaError;
  readonly path: Path;
  readonly value: unknown;
  readonly subschema: Schema;
}

/** The error's path, and the value and the schema at its end. */
function locate(error: SchemaError, data: unknown, root: Schema): Omit<Located, 'error'> {
  const resolve = (given: Schema | false | undefined): Schema => {
    const schema = given ? (given.anyOf?.[1] ?? given) : given;
    const name = schema ? schema.$ref?.split('/').at(-1) : undefined;
    return name === undefined
      ? schema || {}
      : { ...root.$defs?.[name], title: root.$defs?.[name]?.title ?? '' };
  };
  const path: (string | number)[] = [];
  let [value, subschema] = [data, root];
  for (const escaped of error.instancePath.split('/').slice(1)) {
    const step = escaped.replaceAll('~1', '/').replaceAll('~0', '~');
    if (Array.isArray(value)) {
      path.push(Number(step));
      [value, subschema] = [value[Number(step)], resolve(subschema.items)];
    } else {
      path.push(step);
      const own = Object.hasOwn(subschema.properties ?? {}, step) ? subschema.properties?.[step] : undefined;
      [value, subschema] = [
        (value as Record<string, unknown>)[step],
        resolve(own ?? subschema.additionalProperties),
      ];
    }
  }
  return { path, value, subschema };
}

/** The known key that an unknown one was probably meant for: one that is not there itself. */
function suggestion(key: string, value: unknown, { properties = {} }: Schema): string | undefined {
  const present = isObject(value) ? value : {};
  return nearestName(
    key,
    Object.keys(properties).filter((known) => !Object.hasOwn(present, known)),
  );
}

function describe({ error: { keyword, params }, path, value, subschema }: Located): SchemaFault {
  const expected = subschema.title ?? 'another value';
  const name = nameOf(path);
  const fault = (code: Code, message: string, hint: string, at: Path = path, atKey = false): SchemaFault => ({
    code,
    path: at,
    message,
    hint,
    atKey,
  });
  const keys = Object.keys(subschema.properties ?? {});
  switch (keyword) {
    case 'required': {
      const missing = String(params.missingProperty);
      return fault('missing-key', `${name} needs \`${missing}\``, `add \`${missing}\``, [...path, missing]);
    }
    case 'additionalProperties': {
      const key = String(params.additionalProperty);
      const nearest = suggestion(key, value, subschema);
      const hint = nearest ? `did you mean \`${nearest}\`?` : `allowed keys: ${keys.join(', ')}`;
      return fault('unknown-key', `unknown key ${shown(key)}`, hint, [...path, key], true);
    }
    case 'type':
      if (typeof value === 'number' && !Number.isFinite(value)) {
        return fault('out-of-range', `${name} is ${value}`, `expected ${expected} that is finite`);
      }
      return fault(
        'wrong-type',
        `${name} is ${kindOf(value)}`,
        `expected ${expected}${quoteHint(value, expected)}`,
      );
    case 'enum': {
      const allowed = (params.allowedValues as readonly unknown[]).map(String);
      const nearest = typeof value === 'string' ? didYouMean(value, allowed) : undefined;
      const hint = nearest ?? `expected one of ${allowed.join(', ')}`;
      return fault('bad-value', `${name} is ${shown(value)}`, hint);
    }
    case 'const':
      return fault('bad-value', `${name} is ${shown(value)}`, `expected \`${params.allowedValue}\``);
    case 'minItems':
    case 'maxItems': {
      const { length } = value as readonly unknown[];
      const fixed = subschema.minItems === subschema.maxItems;
      const bound = fixed ? 'exactly' : keyword === 'minItems' ? 'at least' : 'at most';
      const code = keyword === 'maxItems' && !fixed ? 'too-many' : 'bad-value';
      return fault(code, `${name} has ${length} entries`, `expected ${expected}, ${bound} ${params.limit}`);
    }
    case 'minProperties':
      return fault('bad-value', `${name} is empty`, `expected ${expected}: one of ${keys.join(', ')}`);
    case 'maxProperties': {
      const count = Object.keys(value as object).length;
      if (keys.length === 0)
        return fault('too-many', `${name} has ${count} entries`, `at most ${params.limit}`);
      const found = keys.filter((key) => Object.hasOwn(value as object, key)).join(' and ');
      return fault(
        'conflicting-keys',
        `${name} has ${found} together`,
        `expected ${expected} of exactly one kind`,
      );
    }
    case 'maxLength':
      return fault(
        'out-of-range',
        `${name} has ${String(value).length} characters`,
        `at most ${params.limit}`,
      );
    default:
      return fault('bad-value', `${name} does not match the schema (${keyword})`, `expected ${expected}`);
  }
}

/** `\`centre\``, `entry 2 of \`centre\``: the end of a path as a message names it, list positions from 1. */
function nameOf(path: Path): string {
  const last = path.at(-1);
  if (last === undefined) return 'the scenario';
  return typeof last === 'string' ? `\`${last}\`` : `entry ${last + 1} of ${nameOf(path.slice(0, -1))}`;
}

const kindOf = (value: unknown): string =>
  typeof value === 'string' ? `the string ${shown(value)}` : typeOf(value);

const quoteHint = (value: unknown, expected: string): string =>
  expected === 'an id' && typeof value === 'number' ? `: put it in quotes, \`'${value}'\`` : '';
