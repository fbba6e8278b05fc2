/**
 * The table of misreadings: what happens to coefficient tables at a fabricator's, each done to a good table by code of this test
 * alone, and what must be said of it. Those that no cause can be named for are told as different, and by no wrong name; why stands
 * beside them. One cause is one finding, however many patches it concerns.
 */
import { describe, expect, test } from 'vitest';
import { OF_NUMBERS } from './support/misread-numbers.ts';
import { OF_ROWS, UNNAMED } from './support/misread-rows.ts';
import { SHARED } from './support/misread-twice.ts';
import { said } from './support/returned-table.ts';
import '../machine/patience.ts';

const NAMED = [...OF_NUMBERS, ...OF_ROWS, ...SHARED];

describe('the table of misreadings', () => {
  test('has thirty cases and more', () => {
    expect(NAMED.length + UNNAMED.length).toBeGreaterThanOrEqual(30);
  });

  test.each(NAMED)('named: $what', ({ done, named }) => {
    const messages = said(done);
    expect(messages).toEqual(named.map((words) => expect.stringMatching(words)));
  });

  test.each(UNNAMED)('differs, cause not found: $what ($why)', ({ done, named }) => {
    const messages = said(done);
    expect(messages.length).toBeGreaterThan(0);
    for (const message of messages)
      expect(message).toMatch(/^table-differs: .*no known misreading explains it/);
    for (const words of named) expect(messages.join('\n')).toMatch(new RegExp(words, 'm'));
  });
});
