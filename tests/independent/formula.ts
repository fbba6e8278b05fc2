/**
 * A small reader of the formulas that stand in the coefficient files: + − · / and products written side by side, the dot for a scalar
 * product, bars for a length, brackets, sqrt, sin and cos. Values are numbers or vectors. Shares no code with src/.
 */
export type Value = number | readonly number[];
export type Names = Readonly<Record<string, Value>>;

const TOKEN = /\s*(?:(\d+(?:\.\d+)?(?:e[+-]?\d+)?)|([A-Za-z][A-Za-z_]*)|([-+*/^.()[\]|,]))/y;

function tokensOf(text: string): string[] {
  const tokens: string[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < text.trimEnd().length) {
    const match = TOKEN.exec(text);
    if (match === null) throw new Error(`cannot read the formula "${text}"`);
    tokens.push((match[1] ?? match[2] ?? match[3]) as string);
  }
  return tokens;
}

/** The formula as a function of what its letters stand for. Throws where it is none, or names something unknown. */
export function formula(text: string): (names: Names) => Value {
  const tokens = tokensOf(text);
  return (names) => {
    const reader = new Reader(tokens, names);
    const value = reader.sum(false);
    if (!reader.isAtEnd()) throw new Error(`the formula "${text}" goes on after its end`);
    return value;
  };
}

/** As `formula`, for one whose value is a number. */
export function numberOf(text: string, names: Names = {}): number {
  const value = formula(text)(names);
  if (typeof value !== 'number') throw new Error(`"${text}" is no number`);
  return value;
}

const isVector = (value: Value): value is readonly number[] => typeof value !== 'number';

function sumOf(a: Value, b: Value, sign: 1 | -1): Value {
  if (!isVector(a) && !isVector(b)) return a + sign * b;
  if (isVector(a) && isVector(b) && a.length === b.length) return a.map((entry, k) => entry + sign * b[k]!);
  throw new Error('a vector and a number cannot be added');
}

function product(a: Value, b: Value): Value {
  if (!isVector(a)) return isVector(b) ? b.map((entry) => a * entry) : a * b;
  if (!isVector(b)) return a.map((entry) => entry * b);
  throw new Error('two vectors stand side by side');
}

const lengthOf = (value: Value): number => (isVector(value) ? Math.hypot(...value) : Math.abs(value));

function scalar(value: Value): number {
  if (isVector(value)) throw new Error('a number is expected where a vector stands');
  return value;
}

const FUNCTIONS: Readonly<Record<string, (value: number) => number>> = {
  sqrt: Math.sqrt,
  sin: Math.sin,
  cos: Math.cos,
};

class Reader {
  readonly #tokens: readonly string[];
  readonly #names: Names;
  #at = 0;

  constructor(tokens: readonly string[], names: Names) {
    this.#tokens = tokens;
    this.#names = names;
  }

  isAtEnd = (): boolean => this.#at === this.#tokens.length;

  #takes(...wanted: readonly string[]): string | undefined {
    const token = this.#tokens[this.#at];
    if (token === undefined || !wanted.includes(token)) return undefined;
    this.#at++;
    return token;
  }

  #needs(token: string): void {
    if (this.#takes(token) === undefined)
      throw new Error(`expected ${token} before ${this.#tokens[this.#at]}`);
  }

  /** `barred`: within bars, where the next bar closes. */
  sum(barred: boolean): Value {
    let value = this.#signed(barred);
    for (let sign = this.#takes('+', '-'); sign !== undefined; sign = this.#takes('+', '-'))
      value = sumOf(value, this.#term(barred), sign === '+' ? 1 : -1);
    return value;
  }

  #signed(barred: boolean): Value {
    const sign = this.#takes('+', '-');
    const value = this.#term(barred);
    return sign === '-' ? product(-1, value) : value;
  }

  #term(barred: boolean): Value {
    let value = this.#factor();
    for (;;) {
      if (this.#takes('/') !== undefined) value = product(1 / scalar(this.#factor()), value);
      else if (this.#takes('*') !== undefined || this.#startsFactor(barred))
        value = product(value, this.#factor());
      else return value;
    }
  }

  #startsFactor(barred: boolean): boolean {
    const token = this.#tokens[this.#at];
    if (token === undefined) return false;
    return /^[\dA-Za-z([]/.test(token) || (token === '|' && !barred);
  }

  #factor(): Value {
    let value = this.#atom();
    for (;;) {
      if (this.#takes('.') !== undefined) {
        const [a, b] = [value, this.#atom()];
        if (!isVector(a) || !isVector(b)) throw new Error('a scalar product of something that is no vector');
        value = a.reduce((sum, entry, k) => sum + entry * b[k]!, 0);
      } else if (this.#takes('^') !== undefined) value = scalar(value) ** scalar(this.#atom());
      else return value;
    }
  }

  #atom(): Value {
    const opening = this.#takes('(', '[', '|');
    if (opening !== undefined) {
      const entries = [this.sum(opening === '|')];
      while (this.#takes(',') !== undefined) entries.push(this.sum(false));
      this.#needs({ '(': ')', '[': ']', '|': '|' }[opening] as string);
      if (opening === '|') return lengthOf(entries[0]!);
      return entries.length === 1 ? entries[0]! : entries.map(scalar);
    }
    const token = this.#tokens[this.#at++];
    if (token === undefined) throw new Error('the formula ends too early');
    // The sign of a printed number: x - -31.
    if (token === '-') return product(-1, this.#atom());
    if (/^\d/.test(token)) return Number(token);
    const own = FUNCTIONS[token];
    if (own !== undefined) return own(scalar(this.#factor()));
    const value = this.#names[token];
    if (value === undefined) throw new Error(`nothing is said of "${token}"`);
    return value;
  }
}
