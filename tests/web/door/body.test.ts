import { Hono } from 'hono';
import { describe, expect, it } from 'vitest';
import { type Pace, pacedBody, takeForm } from '../../../src/web/door/body.js';

const PACE: Pace = { mostBytes: 1000, wholeMs: 400, least: { bytes: 10, eachMs: 150 } };

/** Sends chunks with a wait before each; returns the status, and how many bytes were taken. */
async function sent(
  chunks: readonly (readonly [waitMs: number, bytes: number])[],
  {
    headers = {},
    ends = true,
    pace = PACE,
  }: { headers?: Record<string, string>; ends?: boolean; pace?: Pace } = {},
): Promise<{ status: number; taken: number; asked: number }> {
  let [taken, asked] = [0, 0];
  const left = [...chunks];
  const body = new ReadableStream<Uint8Array>(
    {
      async pull(to) {
        asked += 1;
        const next = left.shift();
        if (next === undefined) return ends ? to.close() : new Promise(() => undefined);
        await new Promise((resolve) => setTimeout(resolve, next[0]));
        to.enqueue(new Uint8Array(next[1]));
      },
    },
    { highWaterMark: 0 },
  );
  const app = new Hono();
  app.post('/', async (c) => {
    for await (const chunk of pacedBody(c, pace)) taken += chunk.length;
    return c.text('taken');
  });
  const request = new Request('http://localhost/', {
    method: 'POST',
    body,
    headers,
    duplex: 'half',
  } as RequestInit);
  const { status } = await app.request(request);
  return { status, taken, asked };
}

describe('a body', () => {
  it('is taken as it comes', async () => {
    expect(
      await sent([
        [0, 10],
        [50, 400],
        [50, 590],
      ]),
    ).toMatchObject({ status: 200, taken: 1000 });
  });

  it('that says it is too large is refused before a byte is read', async () => {
    expect(await sent([[0, 2000]], { headers: { 'content-length': '2000' } })).toEqual({
      status: 413,
      taken: 0,
      asked: 0,
    });
  });

  it('that turns out too large is read no further', async () => {
    expect(
      await sent([
        [0, 600],
        [0, 600],
        [0, 600],
      ]),
    ).toEqual({ status: 413, taken: 600, asked: 2 });
  });

  it('that stalls, or trickles, or never ends, is given up', async () => {
    expect(await sent([[0, 500]], { ends: false })).toMatchObject({ status: 408 });
    expect(await sent(Array.from({ length: 50 }, () => [20, 1] as const))).toMatchObject({ status: 408 });
    const steady = Array.from({ length: 50 }, () => [40, 15] as const);
    const { status, taken } = await sent(steady);
    expect(status).toBe(408);
    expect(taken).toBeGreaterThan(40);
  });

  it('that breaks off is told from what the program itself breaks', async () => {
    const app = new Hono();
    app.post('/', async (c) => {
      await takeForm(c, 100);
      return c.text('taken');
    });
    const body = new ReadableStream({ start: (to) => to.error(new Error('gone')) });
    const response = await app.request(
      new Request('http://localhost/', { method: 'POST', body, duplex: 'half' } as RequestInit),
    );
    expect(response.status).toBe(400);
  });
});

it('a form that was taken in is read as any other, and one without a body is empty', async () => {
  const app = new Hono();
  app.post('/', async (c) => {
    await takeForm(c, 100);
    return c.json(await c.req.parseBody());
  });
  const full = await app.request('http://localhost/', {
    method: 'POST',
    body: new URLSearchParams({ a: '1 & 2' }),
  });
  expect(await full.json()).toEqual({ a: '1 & 2' });
  const empty = await app.request('http://localhost/', {
    method: 'POST',
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
  expect(await empty.json()).toEqual({});
});
