/** Whose file is decoded next: nobody waits for another's slow ones, and two large ones are never in memory at once. */
import { describe, expect, it, vi } from 'vitest';
import { decodePool } from '../../../src/files/threads/decodePool.js';
import type { DecodeThread } from '../../../src/files/threads/decodeThread.js';
import { instant } from '../../../src/units.js';

const NOW = instant(Date.UTC(2024, 5, 1));
const NO_RIDE = { readings: [], outcome: 'no-ride', problem: null };

describe('a pool of decoders', () => {
  /** Decoders whose files are read when the test says so. */
  function pooled(size: number) {
    const given: { readonly by: number; readonly name: string; readonly read: () => void }[] = [];
    const closed: number[] = [];
    let made = 0;
    const make = (): DecodeThread => {
      const by = made++;
      return {
        decode: ({ name }) =>
          new Promise((done) => {
            given.push({ by, name, read: () => done({ readings: [], outcome: 'no-ride', problem: null }) });
          }),
        close: async () => void closed.push(by),
      };
    };
    const pool = decodePool(size, make);
    const decode = (name: string, owner = '', bytes = 8) =>
      pool.decode({ name, owner, bytes: new Uint8Array(bytes) }, NOW);
    /** Reads the last file of that name, and lets the next begin. */
    const read = async (name: string): Promise<void> => {
      given.findLast((one) => one.name === name)!.read();
      await new Promise(setImmediate);
    };
    const names = () => given.map(({ name }) => name);
    return { pool, decode, given, closed, read, names };
  }

  it('has two files read at a time, and gives the next to whoever is free', async () => {
    const { decode, given } = pooled(2);
    const [a] = [decode('a'), decode('b')];
    expect(given.map(({ by }) => by)).toEqual([0, 1]);
    given[0]!.read();
    expect(await a).toEqual(NO_RIDE);
    void decode('c');
    expect(given.map(({ by }) => by)).toEqual([0, 1, 0]);
  });

  it('leaves all but the first idle while files come one by one, and closes them all', async () => {
    const { pool, decode, given, closed } = pooled(3);
    for (const name of ['a', 'b', 'c']) {
      const decoded = decode(name);
      given.at(-1)!.read();
      await decoded;
    }
    expect(given.map(({ by }) => by)).toEqual([0, 0, 0]);
    await pool.close();
    expect(closed).toEqual([0, 1, 2]);
  });

  it('gives the next to whoever has the fewest in hand, then to whoever had none for longest', async () => {
    const { decode, read, names } = pooled(2);
    for (const name of ['a1', 'a2', 'a3', 'a4']) void decode(name, 'a');
    void decode('b1', 'b');
    void decode('c1', 'c');
    expect(names()).toEqual(['a1', 'a2']);
    await read('a1');
    await read('a2');
    expect(names()).toEqual(['a1', 'a2', 'b1', 'c1']);
    await read('b1');
    expect(names().at(-1)).toBe('a3');
  });

  it('leaves a thread for everybody else while one sends files that decode slowly', async () => {
    const clock = vi.spyOn(performance, 'now');
    const { decode, read, names } = pooled(2);
    clock.mockReturnValue(0);
    void decode('slow 1', 'a');
    clock.mockReturnValue(4000);
    await read('slow 1');
    for (const name of ['slow 2', 'slow 3']) void decode(name, 'a');
    expect(names()).toEqual(['slow 1', 'slow 2']);
    void decode('quick', 'b');
    expect(names()).toEqual(['slow 1', 'slow 2', 'quick']);
    clock.mockRestore();
  });

  it('has one large file in hand at a time, and small ones beside it', async () => {
    const { decode, read, names } = pooled(2);
    const large = 9 * 1024 * 1024;
    void decode('large 1', 'a', large);
    void decode('large 2', 'b', large);
    void decode('small', 'c');
    expect(names()).toEqual(['large 1', 'small']);
    await read('small');
    expect(names()).toEqual(['large 1', 'small']);
    await read('large 1');
    expect(names()).toEqual(['large 1', 'small', 'large 2']);
  });

  it('tells how long the decoding itself took, without the waiting for others', async () => {
    const clock = vi.spyOn(performance, 'now').mockReturnValue(0);
    const { pool, read } = pooled(1);
    const took: number[] = [];
    const file = (name: string) => ({
      name,
      bytes: new Uint8Array(8),
      took: (ms: number) => void took.push(ms),
    });
    void pool.decode(file('a'), NOW);
    void pool.decode(file('b'), NOW);
    clock.mockReturnValue(60);
    await read('a');
    clock.mockReturnValue(75);
    await read('b');
    clock.mockRestore();
    expect(took).toEqual([60, 15]);
  });
});
