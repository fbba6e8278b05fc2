/**
 * The words of a scenario as the schema has them: what each means and what stands where it is left out. One source for
 * `explain` and for the tables of schemas/README.md.
 */
import { schemaText } from '../generated/validate-scenario.js';

export interface ScenarioWord {
  /** What it is a word of: `A scenario`, `A patch`. */
  readonly of: string;
  /** From there: `light.wavelength`, `bias`. */
  readonly word: string;
  /** From the top of a scenario, without list positions and ids: `patches.bias.shape`. An outline's words are in several places. */
  readonly paths: readonly string[];
  readonly meaning: string;
  readonly required: boolean;
  /** Where it is left out, if the schema itself says so. */
  readonly fallback: string | undefined;
}

interface SchemaNode {
  readonly $ref?: string;
  readonly description?: string;
  readonly default?: unknown;
  readonly enum?: readonly unknown[];
  readonly required?: readonly string[];
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly additionalProperties?: SchemaNode | false;
  readonly items?: SchemaNode;
  readonly anyOf?: readonly SchemaNode[];
}
interface Schema extends SchemaNode {
  readonly $defs: Readonly<Record<string, SchemaNode>>;
}

const SPOKEN: Readonly<Record<string, string>> = {
  outline: 'An outline',
  datum: 'A datum',
  solid: 'A solid of the envelope or of an obstacle',
  obstacle: 'An obstacle',
  touch: 'A touch',
  reference: 'A reference',
  bias: 'A bias',
  patch: 'A patch',
  keepOut: 'A keep-out',
  seat: 'A seat',
  stageAxis: 'A screw of the stage',
  measurement: 'A measurement',
};

/** In the order of the schema: those of the scenario, then those of each kind of thing in it. */
export function scenarioWords(): readonly ScenarioWord[] {
  const schema: Schema = JSON.parse(schemaText);
  const places = placesOf(schema);
  const things = Object.entries(schema.$defs).filter(([, node]) => node.properties !== undefined);
  return [
    ...wordsOf('A scenario', schema, ['']),
    ...things.flatMap(([name, node]) => wordsOf(SPOKEN[name] ?? name, node, places.get(name) ?? [])),
  ];
}

function wordsOf(of: string, node: SchemaNode, places: readonly string[], before = ''): ScenarioWord[] {
  return Object.entries(node.properties ?? {}).flatMap(([name, child]) => {
    const word = `${before}${name}`;
    const choices = (child.enum ?? []).map((choice) => `\`${choice}\``).join(', ');
    const own: ScenarioWord = {
      of,
      word,
      paths: places.map((place) => (place === '' ? word : `${place}.${word}`)),
      meaning: [child.description, choices && `One of ${choices}.`].filter(Boolean).join(' '),
      required: node.required?.includes(name) ?? false,
      fallback:
        child.default === undefined || child.default === ''
          ? undefined
          : JSON.stringify(child.default).replaceAll('"', ''),
    };
    return [own, ...wordsOf(of, child, places, `${word}.`)];
  });
}

/** Where in a scenario each definition is used. */
function placesOf(schema: Schema): ReadonlyMap<string, readonly string[]> {
  const places = new Map<string, string[]>();
  const walk = (node: SchemaNode, path: string): void => {
    const name = node.$ref?.replace('#/$defs/', '');
    if (name !== undefined) {
      places.set(name, [...(places.get(name) ?? []), path]);
      walk(schema.$defs[name]!, path);
    }
    for (const [key, child] of Object.entries(node.properties ?? {}))
      walk(child, path === '' ? key : `${path}.${key}`);
    for (const child of [node.items, node.additionalProperties, ...(node.anyOf ?? [])])
      if (child) walk(child, path);
  };
  walk(schema, '');
  return places;
}
