import { expect, test } from 'vitest';
import { gate } from '../../src/web/gate.js';

function held() {
  let release = (): void => {};
  const until = new Promise<void>((resolve) => {
    release = resolve;
  });
  return { until, release };
}

test('so many run at once, so many wait in order, and the next is turned away', async () => {
  const pass = gate(1, 2);
  const ran: string[] = [];
  const first = held();
  const work = (name: string, until?: Promise<void>) =>
    pass(async () => {
      ran.push(name);
      await until;
      return name;
    });
  const all = [work('a', first.until), work('b'), work('c')];
  expect(await work('d')).toBeNull();
  expect(ran).toEqual(['a']);
  first.release();
  expect(await Promise.all(all)).toEqual(['a', 'b', 'c']);
  expect(ran).toEqual(['a', 'b', 'c']);
  expect(await work('e')).toBe('e');
});

test('work that fails makes room for the next', async () => {
  const pass = gate(1, 1);
  await expect(pass(() => Promise.reject(new Error('broken')))).rejects.toThrow('broken');
  expect(await pass(async () => 'next')).toBe('next');
});
