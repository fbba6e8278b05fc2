/// <reference lib="dom" />
/** A finding on the page. */
import type { Finding } from '../finding/finding.ts';
import { visibleText } from '../finding/visible-text.ts';
import { h } from './dom.ts';

/** In the place of what it is about. */
export const findingLine = (finding: Finding): HTMLElement => line(finding, '');

/** Of something in a file: with the file's name, and the line. */
export const fileFindingLine = (finding: Finding): HTMLElement => {
  const { place, where } = finding;
  const about = place === undefined ? where : `${place.file}, line ${place.line}`;
  return line(finding, `${visibleText(about)}: `);
};

const line = ({ severity, rule, message, hint }: Finding, about: string): HTMLElement =>
  h(
    'p',
    { class: severity },
    h('strong', {}, `${severity}: `),
    about,
    message,
    hint === undefined ? '' : `; ${hint}`,
    ` [${rule}]`,
  );
