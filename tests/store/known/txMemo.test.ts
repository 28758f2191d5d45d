import { expect, test } from 'vitest';
import { sizeOfRows, TxMemo } from '../../../src/store/known/txMemo.js';

const asking = (most: number) => {
  const memo = new TxMemo<readonly number[]>(most, sizeOfRows);
  const read: string[] = [];
  const ask = (key: string, rows: readonly number[]) =>
    memo.one(key, async () => {
      read.push(key);
      return rows;
    });
  return { memo, read, ask };
};

test('what is asked again is not read again until such rows are written', async () => {
  const { memo, read, ask } = asking(10);
  expect([await ask('a', [1, 2]), await ask('a', []), await ask('b', [])]).toEqual([[1, 2], [1, 2], []]);
  expect(read).toEqual(['a', 'b']);
  memo.forget();
  expect(await ask('a', [3])).toEqual([3]);
});

test('no more rows are held than may be, and what is too much by itself is never held', async () => {
  const { read, ask } = asking(6);
  await ask('a', [1, 2, 3]);
  await ask('b', [1, 2, 3]);
  await ask('a', [1, 2, 3]);
  await ask('all', [1, 2, 3, 4, 5, 6]);
  await ask('a', []);
  await ask('all', []);
  expect(read).toEqual(['a', 'b', 'a', 'all', 'all']);
});

test('of many keys only those are read that are not held, and what is written stands in their place', async () => {
  const memo = new TxMemo<string | null>(10);
  const asked: (readonly string[])[] = [];
  const many = async (...keys: string[]) =>
    Object.fromEntries(
      await memo.many(keys, async (missing) => {
        asked.push(missing);
        return new Map(missing.map((key) => [key, key === 'none' ? null : `read ${key}`]));
      }),
    );
  expect(await many('a', 'none', 'a')).toEqual({ a: 'read a', none: null });
  memo.set('b', 'written');
  expect(await many('a', 'b', 'c', 'none')).toEqual({ a: 'read a', b: 'written', c: 'read c', none: null });
  memo.forgetWhere((value) => value === 'written');
  expect(await many('a', 'b')).toEqual({ a: 'read a', b: 'read b' });
  expect(asked).toEqual([['a', 'none'], ['c'], ['b']]);
});
