import { expect, test } from 'vitest';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { deliverOutbox } from '../../../src/flow/mail/deliverOutbox.js';
import { queueNotices } from '../../../src/flow/mail/queueNotices.js';
import { mailWriter } from '../../../src/mail/writer.js';
import type { MailRow } from '../../../src/ports/mails.js';
import { sealWith } from '../../../src/secret.js';
import { filePorts } from '../../fixtures/filePorts.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { NOW, type WebWorld, webWorld } from '../webWorld.js';

interface World extends WebWorld {
  readonly visitor: Visitor;
  mailOf(kind: MailRow['mail']): Promise<MailRow>;
  deliver(): Promise<void>;
}

const noFile = (): never => {
  throw new Error('No file is read here.');
};

/** Mails that carry links, queued and not yet written. */
async function queued(): Promise<World> {
  const world = await webWorld();
  const links = {
    publicUrl: 'https://bench.example.org',
    seal: sealWith(world.deps.secret),
    isOneClick: false,
  };
  const mailer = { deliver: async () => undefined };
  const { reader, originals } = filePorts();
  const flow = {
    ...{ ...world.deps, ids: world.deps.ids! },
    ...{ originals, writer: mailWriter, mailer, links },
    reader: { ...reader, open: noFile, isWhole: noFile },
  };
  await queueNotices(flow);
  return {
    ...world,
    visitor: await signedIn(world.app),
    mailOf: async (kind) =>
      (await world.store.read((tx) => tx.mails.list())).find(({ mail }) => mail === kind)!,
    deliver: async () => void (await deliverOutbox(flow)),
  };
}

test('a mail can be read once it is written, and until then it says why not', async () => {
  const { visitor, mailOf, deliver } = await queued();
  const { id } = await mailOf('reminder');
  expect(await visitor.text('/mails')).toContain(`href="/mails/${id}"`);
  const before = plain(await visitor.text(`/mails/${id}`));
  expect(before).toContain('To Pia Lanternby');
  expect(before).toContain('It is written when it goes out');
  await deliver();
  const { written } = await mailOf('reminder');
  const page = await visitor.text(`/mails/${id}`);
  expect(plain(page)).toContain(written!.subject);
  expect(plain(page)).toContain('Pia Lanternby <r1@example.org>');
  expect(plain(page)).toContain('F-0001');
  expect(page).toContain('<pre class="letter" lang="en">');
  const digest = await visitor.text(`/mails/${(await mailOf('digest')).id}`);
  expect(plain(digest)).toContain('Tumbledown Suspension Bench');
  // A rider of this name is in the workshop's list.
  expect(digest).not.toMatch(/<script>alert|<b>bold/);
});

test('no link of a rider’s is shown to who reads the mail, and all other words are', async () => {
  const { visitor, mailOf, deliver } = await queued();
  await deliver();
  const { id, written } = await mailOf('reminder');
  const links = [...written!.text.matchAll(/https:\/\/bench\.example\.org\/r\/\S+/g)].map(([link]) => link);
  expect(links.length).toBeGreaterThan(3);
  const page = await visitor.text(`/mails/${id}`);
  expect(page).not.toContain('/r/');
  for (const link of links) expect(page).not.toContain(link.split('/').at(-1)!);
  expect(page).toContain('The links are left out here');
  const shown = plain(page).replaceAll(/\s+/g, ' ');
  for (const line of written!.text.split('\n').filter((one) => one.trim() !== '' && !one.includes('/r/')))
    expect(shown).toContain(line.trim().replaceAll(/\s+/g, ' '));
});

test('of a rider who was forgotten a mail keeps nothing: no name, address, subject or word', async () => {
  const { visitor, store, mailOf, deliver } = await queued();
  await deliver();
  const { id, written } = await mailOf('reminder');
  const digest = await mailOf('digest');
  await store.write(async (tx) => {
    await tx.mails.update(id, { state: 'refused', answer: '550 no such box: r1@example.org' });
    await forgetRider(tx, (await tx.handles.find('rider', 'r1'))!, NOW);
  });
  for (const path of ['/mails', `/mails/${id}`, `/mails/${digest.id}`]) {
    const page = await visitor.text(path);
    for (const gone of ['Lanternby', 'r1@example.org', written!.subject]) expect(page).not.toContain(gone);
  }
  const page = plain(await visitor.text(`/mails/${id}`));
  expect(page).toContain('To a rider who is gone');
  expect(page).toContain('Its text was not kept.');
});

test('there is no mail of another id', async () => {
  const { visitor } = await queued();
  expect((await visitor.get('/mails/nothing')).status).toBe(404);
});
