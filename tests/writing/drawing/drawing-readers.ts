/** Small independent readers of the two drawings: enough to compare what they say, strict about how they say it. */

export interface ReadEntity {
  readonly type: string;
  readonly tags: readonly (readonly [code: number, value: string])[];
}

export interface ReadDxf {
  readonly header: ReadonlyMap<string, readonly string[]>;
  readonly layers: readonly string[];
  /** Of model space. */
  readonly entities: readonly ReadEntity[];
  readonly paper: readonly ReadEntity[];
}

export function readDxf(text: string): ReadDxf {
  const lines = text.split('\n');
  if (lines.pop() !== '' || lines.length % 2 !== 0)
    throw new Error('expected pairs of lines, the last one ended');
  const tags = Array.from({ length: lines.length / 2 }, (_, k): [number, string] => {
    if (!/^\d+$/.test(lines[2 * k]!)) throw new Error(`expected a group code, got ${lines[2 * k]}`);
    return [Number(lines[2 * k]), lines[2 * k + 1]!];
  });
  const records: { type: string; tags: [number, string][]; section: string }[] = [];
  let section = '';
  for (const [index, tag] of tags.entries()) {
    if (tag[0] === 0 && tag[1] === 'SECTION') section = tags[index + 1]![1];
    if (tag[0] === 0) records.push({ type: tag[1], tags: [], section });
    else records.at(-1)!.tags.push(tag);
  }
  const header = new Map<string, string[]>();
  for (const [code, value] of records.find((record) => record.section === 'HEADER')!.tags) {
    if (code === 9) header.set(value, []);
    else [...header.values()].at(-1)?.push(value);
  }
  const named = records.filter(({ type, section: own }) => type === 'LAYER' && own === 'TABLES');
  const entities = records.filter(
    ({ section: own, type }) => own === 'ENTITIES' && !['SECTION', 'ENDSEC'].includes(type),
  );
  const isOnPaper = (entity: ReadEntity): boolean => firstOf(entity, IN_PAPER_SPACE) === '1';
  return {
    header,
    layers: named.map((record) => firstOf(record, 2)),
    entities: entities.filter((entity) => !isOnPaper(entity)),
    paper: entities.filter(isOnPaper),
  };
}

const IN_PAPER_SPACE = 67;

export const valuesOf = ({ tags }: ReadEntity, code: number): string[] =>
  tags.filter(([own]) => own === code).map(([, value]) => value);
export const firstOf = (entity: ReadEntity, code: number): string => valuesOf(entity, code)[0]!;

export interface ReadElement {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  /** Ids of the groups around it, outermost first. */
  readonly groups: readonly string[];
  readonly text: string;
}

/** The elements of an XML document; throws where it is not well formed. */
export function readXml(text: string): ReadElement[] {
  const elements: { name: string; attributes: Map<string, string>; groups: string[]; text: string }[] = [];
  const open: { name: string; attributes: Map<string, string>; groups: string[]; text: string }[] = [];
  const body = text.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n/, '');
  for (const [part] of body.matchAll(/<[^>]*>|[^<]+/g)) {
    if (!part.startsWith('<')) {
      const words = unescaped(part);
      if (open.length > 0) open.at(-1)!.text += words;
      else if (words.trim() !== '') throw new Error(`text outside the root: ${words}`);
    } else if (part.startsWith('</')) {
      const closed = open.pop();
      if (`</${closed?.name}>` !== part) throw new Error(`${part} closes ${closed?.name}`);
    } else {
      const match = /^<([a-z]+)((?: [a-z0-9-]+(?::[a-z]+)?="[^"<]*")*)(\/?)>$/iu.exec(part);
      if (!match) throw new Error(`not a tag: ${part}`);
      const attributes = new Map<string, string>();
      for (const [, name, value] of match[2]!.matchAll(/ ([a-z0-9-]+)="([^"<]*)"/giu)) {
        if (attributes.has(name!)) throw new Error(`${name} twice in ${part}`);
        attributes.set(name!, unescaped(value!));
      }
      const groups = open.flatMap((group) => group.attributes.get('id') ?? []);
      const element = { name: match[1]!, attributes, groups, text: '' };
      elements.push(element);
      if (match[3] === '') open.push(element);
    }
  }
  if (open.length > 0) throw new Error(`left open: ${open.map(({ name }) => name).join(', ')}`);
  return elements;
}

const ENTITIES: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function unescaped(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML 1.0 forbids
  if (/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/u.test(text)) {
    throw new Error('a character that XML 1.0 forbids');
  }
  return text.replace(/&([^;]*);?/g, (whole, name: string) => {
    const character = ENTITIES[name];
    if (character === undefined || !whole.endsWith(';')) throw new Error(`not an entity: ${whole}`);
    return character;
  });
}
