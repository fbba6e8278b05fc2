/**
 * The known name nearest to a misspelled one, by the Damerau–Levenshtein distance (optimal string alignment:
 * insertions, deletions, substitutions, swaps of neighbours). F. J. Damerau, Commun. ACM 7, 171 (1964).
 */

/** Longer names are not compared: nobody misspells a word of that length by a letter or two. */
const LONGEST_COMPARED = 64;

/** The nearest of `known`, if it is near enough to be what was meant; ties go to the first. Else the one that has it as a word. */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  if (name.length > LONGEST_COMPARED) return undefined;
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    if (Math.abs(candidate.length - name.length) > 3 || candidate.length > LONGEST_COMPARED) continue;
    const distance = editDistance(name.toLowerCase(), candidate.toLowerCase());
    if (distance < least) [best, least] = [candidate, distance];
  }
  return least <= allowance(name) ? best : onlyWith(name.toLowerCase(), known);
}

/** `power` is meant as `laserPower` where no other name has that word. */
function onlyWith(word: string, known: Iterable<string>): string | undefined {
  const found = [...known].filter((name) => wordsOf(name).includes(word));
  return found.length === 1 ? found[0] : undefined;
}

const wordsOf = (name: string): string[] => name.split(/(?=[A-Z])/).map((part) => part.toLowerCase());

/** `did you mean \`x\`?`, or undefined where nothing is near. */
export function didYouMean(name: string, known: Iterable<string>): string | undefined {
  const nearest = nearestName(name, known);
  return nearest === undefined ? undefined : `did you mean \`${nearest}\`?`;
}

/** The slips forgiven: none in a name of two letters (but its case), one in a short name, three in a long one. */
const allowance = ({ length }: string): number => (length < 3 ? 0 : length < 5 ? 1 : length < 10 ? 2 : 3);

function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) cost = Math.min(cost, beforeLast[j - 2]! + 1);
      row.push(cost);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
