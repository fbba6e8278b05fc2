/// <reference lib="dom" />
/** Light for a lit room, dark for a dim one, red on black where eyes and the camera are to stay in the dark. */
import { h } from './dom.ts';

const THEMES = { light: 'Light', dark: 'Dark', red: 'Red' } as const;
type Theme = keyof typeof THEMES;

export function themeSwitch(): HTMLElement {
  const set = (theme: Theme): void => {
    document.documentElement.dataset.theme = theme;
  };
  const first: Theme = matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
  set(first);
  return h(
    'fieldset',
    { class: 'themes' },
    h('legend', {}, 'Room'),
    Object.entries(THEMES).map(([theme, words]) =>
      h(
        'label',
        {},
        h('input', {
          type: 'radio',
          name: 'theme',
          value: theme,
          checked: theme === first,
          change: () => set(theme as Theme),
        }),
        words,
      ),
    ),
  );
}
