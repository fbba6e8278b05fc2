/**
 * YAML 1.2 text to plain data and an index of places. A text that cannot be read as YAML gives syntax findings alone.
 */
import { type Document, LineCounter, parseDocument } from 'yaml';
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { PlaceIndex } from './place-finder.ts';
import { plainData } from './plain-data.ts';

/** A scenario's text, bytes of UTF-8: 20,000 patches written out take about this much. */
const LARGEST_TEXT = 4 * 1024 * 1024;
/** Syntax errors shown: one slip makes the parser stumble over what follows. */
const MOST_SYNTAX_ERRORS = 20;

interface ParsedYaml {
  readonly findings: readonly Finding[];
  /** Undefined where the findings keep the text from being used. */
  readonly data: unknown;
  readonly places: PlaceIndex;
}

/** What a file is meant to hold, and how it starts: for messages. */
interface FileWords {
  readonly holds: string;
  readonly start: string;
}

const A_SCENARIO: FileWords = { holds: 'scenario', start: 'start with `format: datumlight/1`' };

/** Plain data, with findings that do not keep it from being used (duplicate keys); or syntax findings alone. */
export function parseYaml(given: string, file: string, words: FileWords = A_SCENARIO): ParsedYaml {
  const text = given.replace(/^\ufeff/, '');
  const lines = new LineCounter();
  const places = new PlaceIndex(file, lines);
  const findings: Finding[] = [];
  const fault = (rule: Code, message: string, hint: string, start: number, end: number): void => {
    findings.push(errorFinding(rule, file, message, hint, places.ofRange(start, end)));
  };
  const refused: ParsedYaml = { findings, data: undefined, places };

  const size = new TextEncoder().encode(text).length;
  if (size > LARGEST_TEXT) {
    fault('file-too-large', `the file has ${size} bytes; the limit is ${LARGEST_TEXT}`, 'split it', 0, 1);
    return refused;
  }
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that no text has
  const control = /[\0-\x08\x0b\x0c\x0e-\x1f\x7f]/.exec(text);
  if (control !== null) {
    lines.addNewLine(0);
    for (const { index } of text.slice(0, control.index).matchAll(/\n/g)) lines.addNewLine(index + 1);
    const code = control[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
    const message = `the file contains the control character U+${code} and is not a text file`;
    fault('not-text', message, `give the ${words.holds} as YAML text`, control.index, control.index + 1);
    return refused;
  }
  try {
    const document = parseDocument(text, {
      lineCounter: lines,
      merge: true,
      uniqueKeys: false,
      stringKeys: true,
      prettyErrors: false,
      logLevel: 'error',
    });
    findings.push(...syntaxFindings(document, file, places));
    const head = document.directives?.yaml.version === '1.1' ? YAML_1_1.exec(text) : null;
    if (head !== null)
      fault(
        'yaml-syntax',
        OTHER_VERSION,
        'remove this line and check such values: the file is read as YAML 1.2',
        head.index,
        head.index + head[0].length,
      );
    if (findings.length > 0) return refused;
    if (document.contents === null) {
      fault('yaml-syntax', `the file contains no ${words.holds}`, words.start, 0, 1);
      return refused;
    }
    places.root = document.contents;
    return { findings, data: plainData(document.contents, places, fault), places };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    fault('yaml-syntax', TOO_DEEP, 'reduce the nesting', 0, 1);
    return refused;
  }
}

const YAML_1_1 = /^%YAML[ \t]+1\.1\b/m;
/** YAML 1.1 (2005), whose types of a plain scalar are at yaml.org/type: bool, int and float. */
const OTHER_VERSION = 'the head asks for YAML 1.1, where `yes` is true, `010` is 8 and `1:30` is 90';

const TOO_DEEP = 'the YAML is nested too deeply';

/** What is said of an error by its code in the yaml library: our own message where its own would not help, and a hint. */
const SYNTAX: { readonly [code: string]: { readonly message?: string; readonly hint: string } } = {
  TAB_AS_INDENT: { hint: 'indent with spaces' },
  MISSING_CHAR: { hint: 'close what was opened: a quote, `]` or `}`' },
  MULTIPLE_DOCS: {
    message: 'the file contains more than one YAML document',
    hint: 'keep one: remove `---` and everything after it',
  },
  TAG_RESOLVE_FAILED: { hint: 'remove the tag' },
  MULTILINE_IMPLICIT_KEY: { hint: 'put a key and its `:` on one line' },
  BLOCK_AS_IMPLICIT_KEY: { hint: 'check the indentation; quote a string that contains `: `' },
  NON_STRING_KEY: { message: 'a list or a mapping is used as a key', hint: 'use a plain name' },
};
const GENERAL_HINT = 'check the indentation and the brackets on this line and the one before';

/** The first error of each line. */
function syntaxFindings(document: Document.Parsed, file: string, places: PlaceIndex): Finding[] {
  const byLine = new Map<number, Finding>();
  for (const { message, pos, code } of [...document.errors, ...document.warnings]) {
    const place = places.ofRange(pos[0], pos[1]);
    const own = SYNTAX[code] ?? { hint: GENERAL_HINT };
    const said = /call stack/.test(message) ? TOO_DEEP : (own.message ?? asClause(message));
    const finding = errorFinding('yaml-syntax', file, said, own.hint, place);
    if (!byLine.has(place.line)) byLine.set(place.line, finding);
  }
  return [...byLine.values()].slice(0, MOST_SYNTAX_ERRORS);
}

const asClause = (message: string): string => {
  const line = message.split('\n')[0]!.replace(/[.:]$/, '');
  return `not YAML: ${line.charAt(0).toLowerCase()}${line.slice(1)}`;
};
