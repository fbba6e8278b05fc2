/// <reference lib="dom" />
/** A finding on the page. */
import type { Finding } from '../finding/finding.ts';
import { visibleText } from '../finding/visible-text.ts';
import { h } from './dom.ts';

/** `about`: what it is about, where the page does not show it in that thing's own place. */
export const findingLine = ({ severity, rule, message, hint }: Finding, about?: string): HTMLElement =>
  h(
    'p',
    { class: severity },
    h('strong', {}, `${severity}: `),
    about === undefined ? '' : `${visibleText(about)}: `,
    message,
    hint === undefined ? '' : `; ${hint}`,
    ` [${rule}]`,
  );

/** Of something in a file: with the file's name, and the line. */
export const fileFindingLine = (finding: Finding): HTMLElement => {
  const { place, where } = finding;
  return findingLine(finding, place === undefined ? where : `${place.file}, line ${place.line}`);
};
