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

test('work that gives way lets those who wait go first, and then goes on; nobody turns it away', async () => {
  const pass = gate(1, 1);
  const ran: string[] = [];
  const first = held();
  const long = pass(async (giveWay) => {
    ran.push('long');
    await first.until;
    await giveWay();
    ran.push('long again');
    await giveWay();
    return 'long';
  });
  const second = held();
  const short = pass(async () => {
    ran.push('short');
    await second.until;
  });
  first.release();
  await new Promise(setImmediate);
  // It waits behind the short one, and a third finds no room.
  expect(await pass(async () => 'third')).toBeNull();
  second.release();
  await short;
  expect(await long).toBe('long');
  expect(ran).toEqual(['long', 'short', 'long again']);
});
