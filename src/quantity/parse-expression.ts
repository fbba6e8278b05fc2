/**
 * The text of an expression to its tree. Only the alphabet of an expression reaches the parser, in a length and depth that
 * keep it quick: mathjs tries a `%` both ways, for one, and takes exponential time over many of them.
 */
import { type ExpressionNode, parseExpression, refusal } from './mathjs.ts';
import { ProblemError, quote } from './problem.ts';
import { plainUnitText } from './unit.ts';

const LONGEST_EXPRESSION = 200;
/** Parentheses within parentheses; the parser's recursion stays shallow. */
const DEEPEST_NESTING = 32;

/** The tree of `text`. Throws a ProblemError. */
export function parse(text: string): ExpressionNode {
  const plain = plainUnitText(text);
  if (plain.trim() === '') {
    throw new ProblemError('bad-expression', 'the expression is empty', 'write a number or an expression');
  }
  refuseCharacters(plain, text);
  try {
    return parseExpression(plain);
  } catch (error) {
    if (error instanceof ProblemError) throw error;
    const reason = error instanceof Error ? error.message.replace(/ \(char \d+\)$/, '') : '';
    throw new ProblemError(
      'bad-expression',
      `cannot read the expression ${quote(text)}: ${reason.charAt(0).toLowerCase()}${reason.slice(1)}`,
      'write a number with a unit, e.g. `1.5 in`, or an expression, e.g. `rim + smr/2`',
    );
  }
}

const REFUSED_CHARACTERS: ReadonlyMap<string, string> = new Map([
  [':', 'a range (`:`)'],
  ['=', 'an assignment or a function definition (`=`)'],
  ['[', 'a list or an index (`[`)'],
  [']', 'a list or an index (`]`)'],
  ['{', 'an object (`{`)'],
  ['}', 'an object (`}`)'],
  ['"', 'a quoted string'],
  ["'", 'a quoted string'],
  [';', 'several expressions in one (`;`)'],
  ['\n', 'a line break'],
  ['?', 'a conditional (`?`)'],
  ['<', 'a comparison (`<`)'],
  ['>', 'a comparison (`>`)'],
  ['!', 'a factorial (`!`)'],
  ['%', 'a percentage or a remainder (`%`)'],
  ['#', 'a comment (`#`)'],
]);

/** Whatever is not in the alphabet of an expression never reaches the parser. */
function refuseCharacters(plain: string, original: string): void {
  if (original.length > LONGEST_EXPRESSION) {
    throw new ProblemError(
      'bad-expression',
      `the expression has ${original.length} characters; the limit is ${LONGEST_EXPRESSION}`,
      'split it into several `parameters`',
    );
  }
  if (/^[+-]?\d+,\d+(?!.*\()/.test(plain)) {
    throw new ProblemError(
      'bad-expression',
      `${quote(original)} has a decimal comma`,
      'write a decimal point',
    );
  }
  const foreign = /[^\w\s.,+\-*/^()]|\n/.exec(plain)?.[0];
  if (foreign !== undefined) throw refusal(REFUSED_CHARACTERS.get(foreign) ?? `the character \`${foreign}\``);
  const words: readonly string[] = plain.match(/(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?|[A-Za-z_]\w*/g) ?? [];
  if (words.includes('in')) {
    throw new ProblemError(
      'bad-expression',
      'inside an expression `in` is an operator, not the unit',
      `write \`inch\`: \`${plain.replace(/(?<![A-Za-z_])in(?!\w)/g, 'inch')}\``,
    );
  }
  let depth = 0;
  for (const character of plain) {
    depth += character === '(' ? 1 : character === ')' ? -1 : 0;
    if (depth > DEEPEST_NESTING) {
      throw new ProblemError(
        'bad-expression',
        `the expression nests parentheses more than ${DEEPEST_NESTING} deep`,
        'split it into several `parameters`',
      );
    }
  }
}
