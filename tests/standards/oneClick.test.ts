/** Source: RFC 8058: one click to unsubscribe, through the flow and the pages. */
import { describe, expect, it } from 'vitest';
import { linkOf, RiderWorld } from '../flow/riderWorld.js';

async function told(options: Parameters<typeof RiderWorld.open>[0] = {}) {
  const world = await RiderWorld.open(options);
  const mail = await world.reminderTo('r1@example.org');
  const riderId = await world.flow.id('rider', 'r1');
  const isStopped = async () =>
    (await world.store.read((tx) => tx.contacts.find(riderId)))!.unsubscribedAt !== null;
  return { world, mail, isStopped };
}

const oneClickUrl = (header: string): string => /^<(https:[^>]+)>, <mailto:/.exec(header)?.[1] ?? 'none';

describe('RFC 8058 3.1, the sender', () => {
  it('offers it with one HTTPS address of its own for each reader, and a mailto beside it', async () => {
    const { world, mail } = await told();
    expect(mail.headers['List-Unsubscribe-Post']).toBe('List-Unsubscribe=One-Click');
    const url = oneClickUrl(mail.headers['List-Unsubscribe']!);
    expect(url).toBe(linkOf(mail, 'stop'));
    const other = await world.reminderTo('r2@example.org');
    expect(oneClickUrl(other.headers['List-Unsubscribe']!)).not.toBe(url);
    expect(mail.headers['List-Unsubscribe']!.length).toBeLessThan(998);
  });

  it.each([
    ['mails go out unsigned', { isOneClick: false }],
    ['pages stand under HTTP', { publicUrl: 'http://bench.example.org', isOneClick: true }],
  ])('does not where %s', async (_, options) => {
    const { mail } = await told(options);
    expect(mail.headers['List-Unsubscribe']).toBe('<mailto:bench@example.org?subject=stop>');
    expect(mail.headers).not.toHaveProperty('List-Unsubscribe-Post');
  });

  it('nor on mails that a rider cannot stop', async () => {
    const { world } = await told();
    const digest = await world.reminderTo('bench@example.org');
    expect(digest.headers).not.toHaveProperty('List-Unsubscribe');
  });
});

describe('RFC 8058 3.2 and 8.1, the mail program', () => {
  const send = (world: RiderWorld, url: string, type: string, body: string) =>
    world.app.request(new URL(url).pathname, {
      method: 'POST',
      headers: { 'Content-Type': type, 'Content-Length': String(body.length) },
      body,
    });

  it('posts List-Unsubscribe=One-Click, 26 octets, without a cookie, and is not sent elsewhere', async () => {
    const { world, mail, isStopped } = await told();
    const body = 'List-Unsubscribe=One-Click';
    expect(body).toHaveLength(26);
    const url = oneClickUrl(mail.headers['List-Unsubscribe']!);
    const response = await send(world, url, 'application/x-www-form-urlencoded', body);
    expect(response.status).toBe(200);
    expect(response.headers.has('location')).toBe(false);
    expect(response.headers.has('set-cookie')).toBe(false);
    expect(await isStopped()).toBe(true);
    // A program that tries again changes nothing.
    expect((await send(world, url, 'application/x-www-form-urlencoded', body)).status).toBe(200);
    expect(await isStopped()).toBe(true);
  });

  it('or the same as multipart/form-data', async () => {
    const { world, mail, isStopped } = await told();
    const body =
      '--xyz\r\nContent-Disposition: form-data; name="List-Unsubscribe"\r\n\r\nOne-Click\r\n--xyz--\r\n';
    const url = oneClickUrl(mail.headers['List-Unsubscribe']!);
    expect((await send(world, url, 'multipart/form-data; boundary=xyz', body)).status).toBe(200);
    expect(await isStopped()).toBe(true);
  });

  it('and no GET, no other body and no guessed address unsubscribes anybody', async () => {
    const { world, mail, isStopped } = await told();
    const url = oneClickUrl(mail.headers['List-Unsubscribe']!);
    await world.get(url);
    await send(world, url, 'application/x-www-form-urlencoded', 'List-Unsubscribe=Two-Click');
    await send(world, url, 'text/plain', 'List-Unsubscribe=One-Click');
    const guessed = `${url.slice(0, -1)}${url.endsWith('0') ? '1' : '0'}`;
    const answer = await send(
      world,
      guessed,
      'application/x-www-form-urlencoded',
      'List-Unsubscribe=One-Click',
    );
    expect(answer.status).toBe(404);
    expect(await isStopped()).toBe(false);
  });
});
