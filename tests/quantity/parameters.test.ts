import { describe, expect, test } from 'vitest';
import { parameterValue, resolveParameters } from '../../src/quantity/parameters.ts';

const resolve = (given: Record<string, string | number>) => resolveParameters(new Map(Object.entries(given)));

describe('parameters', () => {
  test('refer to each other in any order', () => {
    const { scope, problems } = resolve({
      a: 'b + c',
      b: 'c * 2',
      c: '1.5 in',
      area: 'a * b',
      share: 'b / a',
    });
    expect(problems.size).toBe(0);
    const values = [...scope].map(([name, quantity]) => [
      name,
      quantity === 'faulty' ? 0 : parameterValue(quantity),
    ]);
    expect(Object.fromEntries(values)).toEqual({
      a: { value: expect.closeTo(114.3, 10), dimension: 'length' },
      b: { value: expect.closeTo(76.2, 10), dimension: 'length' },
      c: { value: 38.1, dimension: 'length' },
      area: { value: expect.closeTo(114.3 * 76.2, 8), dimension: 'other' },
      share: { value: expect.closeTo(2 / 3, 12), dimension: 'number' },
    });
  });

  test.each<[Record<string, string>, string]>([
    [{ a: 'a' }, 'the parameter `a` refers to itself'],
    [{ a: 'b', b: 'a' }, 'the parameters refer to each other in a loop: a -> b -> a'],
    [
      { x: 'a', a: 'b + 1', b: '2 * c', c: 'a', y: 'x' },
      'the parameters refer to each other in a loop: a -> b -> c -> a',
    ],
  ])('a loop is named whole, once: %j', (given, message) => {
    const { problems } = resolve(given);
    expect([...problems.values()].map(({ code, message }) => [code, message])).toEqual([
      ['parameter-cycle', message],
    ]);
  });

  test('a chain of a thousand does no harm', () => {
    const chain = Object.fromEntries(
      Array.from({ length: 1000 }, (_, i) => [`p${i}`, i === 999 ? '1 mm' : `p${i + 1} + 1 mm`]),
    );
    const { scope, problems } = resolve(chain);
    expect(problems.size).toBe(0);
    expect(scope.get('p0')).toMatchObject({ value: 1000 });
  });

  test.each(['mm', 'in', 'pi', 'sin', 'to', 'a b', '1a', '__proto__ x', 'a-b', '\u00b5', 'x'.repeat(65), ''])(
    'the name %j is refused',
    (name) => {
      expect(resolve({ [name]: '1 mm' }).problems.get(name)?.code).toBe('bad-id');
    },
  );

  test.each(['constructor', 'hasOwnProperty', 'toString', 'rod', '_x'])(
    'the name %j is like any other',
    (name) => {
      const { scope, problems } = resolve({ [name]: '1 mm', twice: `2 * ${name}` });
      expect(problems.size).toBe(0);
      expect(scope.get('twice')).toMatchObject({ value: 2 });
    },
  );
});
