/** Progress is for a terminal: one line there, rewritten and taken away; not a byte into a pipe or with --quiet. */
import { Writable } from 'node:stream';
import { expect, test } from 'vitest';
import { progressTo } from '../../src/cli/progress.ts';

function written(isTTY: boolean, quiet: boolean): string {
  let text = '';
  const stream = new Writable({
    write(chunk, _encoding, done) {
      text += chunk;
      done();
    },
  });
  const progress = progressTo(Object.assign(stream, { isTTY }), quiet);
  progress.say('1/2');
  progress.say('2/2', true);
  progress.end();
  return text;
}

test('a terminal has the first line, the last one, and then none', () => {
  const erased = '\r\u001b[K';
  expect(written(true, false)).toBe(`${erased}1/2${erased}2/2${erased}`);
});

test.each([
  [false, false],
  [true, true],
  [false, true],
])('terminal %s, quiet %s: nothing', (isTTY, quiet) => {
  expect(written(isTTY, quiet)).toBe('');
});
