/**
 * A field of a CSV line (RFC 4180), safe to open in a spreadsheet. A spreadsheet takes a cell that starts with `=`, `+`, `-`, `@`, a tab
 * or a carriage return for a formula (OWASP, "CSV Injection", from memory); where `;` parts cells, what follows one starts a cell too.
 */
import { visibleText } from '../finding/visible-text.ts';

/** A number, with its unit or without: `-3.2`, `+0.5 µm`. */
const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?( [A-Za-zµ°%]+)?$/i;
/** The full-width forms of the four signs start a formula too in some languages. */
const FORMULA = /(^|;)( *)(?=[=+\-@\uff0b\uff0d\uff1d\uff20])/g;

/** A text that no spreadsheet takes for a formula: an apostrophe goes before it. Numbers stay as they are; controls become signs. */
export function inertCell(text: string): string {
  if (NUMBER.test(text)) return text;
  return visibleText(text).replace(FORMULA, "$1$2'");
}

/** Inert, and quoted only where it holds a comma or a quote. */
export function csvField(text: string): string {
  const inert = inertCell(text);
  return /[",]/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}
