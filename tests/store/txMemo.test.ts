import { expect, test } from 'vitest';
import { TxMemo } from '../../src/store/txMemo.js';

const asking = (most: number) => {
  const memo = new TxMemo<number>(most);
  const read: string[] = [];
  const ask = (question: string, rows: readonly number[]) =>
    memo.answer(question, async () => {
      read.push(question);
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
