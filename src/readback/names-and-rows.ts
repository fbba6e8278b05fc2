/** What a returned coefficient table has under wrong names, lacks, or has for another order: each kind told once. */
import { fitPhase } from '../design/phase-fit.ts';
import type { Finding } from '../finding/finding.ts';
import { nearestName } from '../quantity/nearest-name.ts';
import type { PatchMeaning, TableMeaning } from './table-meaning.ts';
import { idsWords, signed } from './table-words.ts';

/** Pairs of a name and whose rows are under it that are told; of more, the count. */
const PAIRS_NAMED = 4;

export const namesAndRows = (meaning: TableMeaning, file: string): readonly Finding[] => [
  ...unknownNames(meaning),
  ...misnamed(meaning, file),
  ...incomplete(meaning, file),
];

function unknownNames({ patches, unknown, misnamed: others }: TableMeaning): readonly Finding[] {
  const ids = patches.map(({ patch }) => patch.id);
  const unknownOf = (
    name: string,
    place: Finding['place'],
    near: string | undefined,
    more: string,
  ): Finding => ({
    severity: 'error',
    rule: 'unknown-name',
    where: name,
    message: `the design has no patch ${JSON.stringify(name)}${more}`,
    hint:
      near === undefined
        ? 'remove its rows, or compare with the scenario that the table belongs to'
        : `did you mean ${near}?`,
    ...(place && { place }),
  });
  const once = new Map<string, Finding>();
  for (const { patch, place } of unknown)
    if (!once.has(patch)) once.set(patch, unknownOf(patch, place, nearestName(patch, ids), ''));
  for (const { block, meant } of others)
    if (!ids.includes(block.patch) && !once.has(block.patch))
      once.set(block.patch, unknownOf(block.patch, block.place, meant, `; its rows are those of ${meant}`));
  return [...once.values()];
}

/** Patches whose rows stand under the names of others. */
function misnamed({ patches, misnamed: all }: TableMeaning, file: string): readonly Finding[] {
  const ids = patches.map(({ patch }) => patch.id);
  const pairs = new Map(
    all.filter(({ block }) => ids.includes(block.patch)).map((own) => [own.block.patch, own]),
  );
  if (pairs.size === 0) return [];
  const steps = new Set([...pairs].map(([name, { meant }]) => ids.indexOf(meant) - ids.indexOf(name)));
  const isShift =
    pairs.size > 1 &&
    [1, -1].some((by) => [...steps].filter((step) => step !== by).length <= 1 && steps.has(by));
  const words = [...pairs]
    .slice(0, PAIRS_NAMED)
    .map(([name, { meant }]) => `under ${name} are those of ${meant}`);
  const more = pairs.size - words.length;
  const how = pairs.size === 2 ? 'exchanged' : isShift ? 'shifted by one' : 'mixed up';
  const place = [...pairs.values()][0]!.block.place;
  return [
    {
      severity: 'error',
      rule: 'table-misread',
      where: file,
      message: `the names of ${pairs.size} patches are ${pairs.size === 1 ? 'wrong' : how}: the rows ${words.join(', ')}${more > 0 ? `, and ${more} more` : ''}`,
      hint: 'give each patch its own rows',
      place,
    },
  ];
}
/** What lacks, each kind once; and orders that are not the design's. */
function incomplete({ patches }: TableMeaning, file: string): Finding[] {
  const findings: Finding[] = [];
  const say = (
    rule: Finding['rule'],
    own: readonly PatchMeaning[],
    message: (what: string) => string,
    hint: string,
  ) => {
    const [first] = own;
    if (first === undefined) return;
    const place = first.blocks[0] && { place: first.blocks[0].block.place };
    const ids = own.map(({ patch }) => patch.id);
    const where = place && own.length === 1 ? ids[0]! : file;
    findings.push({
      severity: 'error',
      rule,
      where,
      message: message(idsWords(ids)),
      hint,
      ...place,
    });
  };
  const verb = (own: readonly PatchMeaning[]): string => (own.length === 1 ? 'is' : 'are');
  const missing = patches.filter(({ blocks }) => blocks.length === 0);
  const present = patches.filter(({ blocks }) => blocks.length > 0);
  say('table-incomplete', missing, (what) => `${what} ${verb(missing)} missing`, 'add the rows');
  const noPhase = present.filter(({ lacks }) => lacks.includes('phase'));
  const basis = noPhase[0] && fitPhase(noPhase[0].patch).basis;
  say(
    'table-incomplete',
    noPhase,
    (what) => `${what} ${noPhase.length === 1 ? 'has' : 'have'} neither a polynomial nor Zernike terms`,
    `add the rows of basis ${basis} or zernike`,
  );
  const noRoof = present.filter(({ lacks }) => lacks.includes('roof'));
  say(
    'table-incomplete',
    noRoof,
    (what) => `the roof of ${what} is missing`,
    'add the three rows of basis roof',
  );
  const orders = new Map<string, PatchMeaning[]>();
  for (const own of present)
    if (own.wrongOrder !== undefined) {
      const key = `order ${signed(own.wrongOrder)}; the design’s working order is ${signed(own.patch.order)}`;
      orders.set(key, [...(orders.get(key) ?? []), own]);
    }
  for (const [words, own] of orders)
    say(
      'table-misread',
      own,
      (what) => `${what} ${verb(own)} for ${words}`,
      'give the working order; the phase itself is at order 1',
    );
  return findings;
}
