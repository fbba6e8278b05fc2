/**
 * Text from a file made safe for a terminal: what would move the cursor, change colours or reorder letters is shown as a
 * sign of its own, never sent. Each replaced character keeps its place in the line.
 *
 * Titles, drawing numbers, ids, arguments and names of files reach outputs in these ways, each with one home for its escape:
 *
 *     terminal lines            sayLine of cli/say.ts; findings: render-finding.ts
 *     JSON, on disk or printed  writing/json.ts
 *     cells of CSV, Markdown    writing/csv.ts; what is markup in Markdown: writing/difference/difference-report.ts
 *     HTML pages, bench and reach map in SVG   `html` of writing/page/html.ts
 *     the drawing in SVG, DXF, PDF   `drawable` of writing/drawing/lettering.ts, then what each format escapes
 *     folders of a batch        batch/package-names.ts refuses; ids: reading/yaml/identifiers.ts
 *
 * Pictures and pattern files hold ids alone. What `plan` prints for another program is the scenario itself, as it was given.
 */

/** The offset from a control character to its picture in Unicode's block Control Pictures. */
const CONTROL_PICTURES = 0x2400;
const DELETE = 0x7f;

/** Controls of both sets, direction marks and overrides, zero-width signs, line separators, the byte order mark, surrogates alone. */
const UNSAFE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to make visible
  /[\0-\x1f\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Those that show nothing: they change how the letters around them stand, or hide between them. */
const MARKS = /[\u00ad\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]/g;

/** For a drawing, where a sign in the place of each would only be read as part of the name. */
export const withoutMarks = (text: string): string => text.replace(MARKS, '');

/** Where every unsafe character of a JSON text stands within a string: as its escape, so that the text means the same. */
export const withoutRawControls = (json: string): string =>
  json.replace(UNSAFE, (character) =>
    character === '\n' ? character : `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/** `text` with every unsafe character replaced by exactly one visible one; a tab becomes a space. */
export function visibleText(text: string): string {
  return text.replace(UNSAFE, (character) => {
    const code = character.charCodeAt(0);
    if (character === '\t') return ' ';
    if (code < 0x20) return String.fromCharCode(CONTROL_PICTURES + code);
    return code === DELETE ? '\u2421' : '\ufffd';
  });
}
