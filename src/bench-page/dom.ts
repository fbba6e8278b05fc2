/// <reference lib="dom" />
/** Elements by name, attributes and children. Every text goes in as text: what a title or an id holds can never be markup. */
import { visibleText } from '../finding/visible-text.ts';

export type Child = Node | string | number | undefined | false | readonly Child[];
type Attribute = string | number | boolean | undefined | ((event: Event) => void);

export function h<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Readonly<Record<string, Attribute>> = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[Name] {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) setAttribute(element, key, value);
  append(element, children);
  return element;
}

/** A function listens to the event of that name; `true` is an attribute without a value. */
export function setAttribute(element: Element, key: string, value: Attribute): void {
  if (typeof value === 'function') element.addEventListener(key, value);
  else if (value === true) element.setAttribute(key, '');
  else if (value === undefined || value === false) element.removeAttribute(key);
  else element.setAttribute(key, visibleText(String(value)));
}

function append(element: Element, children: readonly Child[]): void {
  for (const child of children) {
    if (child === undefined || child === false) continue;
    if (child instanceof Node) element.append(child);
    else if (typeof child === 'object') append(element, child);
    else element.append(visibleText(String(child)));
  }
}

export function refill(element: Element, ...children: readonly Child[]): void {
  element.replaceChildren();
  append(element, children);
}

/** Text of several lines, each made visible. */
export const preformatted = (text: string): HTMLElement => {
  const element = h('pre', { tabindex: 0 });
  element.textContent = text.split('\n').map(visibleText).join('\n');
  return element;
};

/** A button that says what it does. */
export const button = (
  words: string,
  act: () => void,
  attributes: Readonly<Record<string, Attribute>> = {},
): HTMLButtonElement => h('button', { type: 'button', click: act, ...attributes }, words);

/** A choice of a few words, under its label. */
export function choice(
  label: string,
  options: readonly (readonly [value: string, words: string])[],
  chosen: string,
  change: (value: string) => void,
): HTMLLabelElement {
  const select = h(
    'select',
    { change: () => change(select.value) },
    options.map(([value, words]) => h('option', { value, selected: value === chosen }, words)),
  );
  return h('label', { class: 'choice' }, h('span', {}, label), select);
}

/** A section of the page under its heading. */
export const section = (id: string, title: string, ...children: readonly Child[]): HTMLElement =>
  h('section', { id, 'aria-labelledby': `${id}-title` }, h('h2', { id: `${id}-title` }, title), children);

/** SVG that the program drew: its texts are escaped where they are put in. */
export function drawn(svg: string): SVGSVGElement {
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml');
  return document.importNode(parsed.documentElement, true) as unknown as SVGSVGElement;
}
