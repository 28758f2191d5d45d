/** What a rider’s own page says of rides by mail, and what may be changed there. */
import { describe, expect, it } from 'vitest';
import { ownPageLink } from '../../../../src/flow/mail/links.js';
import { findRidesAddress } from '../../../../src/flow/take/whoseMail.js';
import { PUBLIC_URL, RiderWorld, SEAL } from '../../../flow/riderWorld.js';

const mailbox = { address: 'rides@bench.example.org', server: null, seal: SEAL };

async function opened(withMailbox = true) {
  const world = await RiderWorld.open(withMailbox ? { mailbox } : {});
  const riderId = await world.flow.id('rider', 'r1');
  const page = await world.store.read(async (tx) =>
    ownPageLink(
      tx,
      (await tx.contacts.find(riderId))!,
      { publicUrl: PUBLIC_URL, seal: SEAL },
      world.deps.clock.now(),
    ),
  );
  const address = (): Promise<string> => world.store.read((tx) => findRidesAddress(tx, mailbox, riderId));
  return { world, page, address };
}

describe('with a mailbox', () => {
  it('shows the address where files are sent, and with the mails', async () => {
    const { world, page, address } = await opened();
    for (const part of ['/files', '/mails']) expect(await world.text(page + part)).toContain(await address());
  });

  it('stops the answers and takes them up again, and leaves reminders alone', async () => {
    const { world, page } = await opened();
    await world.post(`${page}/mails`, { action: 'stop-answers' });
    expect(await world.text(`${page}/mails`)).toContain('The answers are stopped.');
    expect(await world.text(`${page}/mails`)).toContain('Stop these reminders');
    await world.post(`${page}/mails`, { action: 'answer-again' });
    expect(await world.text(`${page}/mails`)).toContain('Stop these answers');
  });

  it('gives another address, and the page shows it', async () => {
    const { world, page, address } = await opened();
    const before = await address();
    await world.post(`${page}/mails`, { action: 'other-address' });
    expect(await address()).not.toBe(before);
    expect(await world.text(`${page}/files`)).toContain(await address());
    expect(await world.text(`${page}/files`)).not.toContain(before);
  });
});

it('without one there is no word of it, and its forms do nothing', async () => {
  const { world, page } = await opened(false);
  expect(await world.text(`${page}/files`)).not.toContain('Rides by mail');
  expect(await world.text(`${page}/mails`)).not.toContain('Rides by mail');
  expect((await world.post(`${page}/mails`, { action: 'other-address' })).status).toBe(422);
});
