import { expect, test } from 'vitest';
import type { Cause } from '../../../src/core/notices/notice/notice.js';
import { queueNotices } from '../../../src/flow/mail/queueNotices.js';
import { plain, signedIn } from '../visitor.js';
import { webWorld } from '../webWorld.js';

const counted = () => {
  let last = 0;
  return { uuid: () => `00000000-0000-4000-8000-${String(++last).padStart(12, '0')}` };
};

test('mails are listed with whom they go to, what they are about and what became of them', async () => {
  const { app, deps, store } = await webWorld();
  const visitor = await signedIn(app);
  expect(plain(await visitor.text('/mails'))).toContain('There are no mails yet.');
  await queueNotices({ ...deps, ids: counted() });
  const text = plain(await visitor.text('/mails'));
  expect(text).toContain('Pia Lanternby reminder F-0001 lower-leg service, coming up waiting');
  expect(text).toContain('the workshop list for the workshop');
  expect(text).toContain('It is checked again before sending; what no longer holds is left out.');

  const mail = (await store.read((tx) => tx.mails.list())).find((one) => one.mail === 'reminder')!;
  await store.write(async (tx) => {
    const settledAt = deps.clock.now();
    await tx.mails.update(mail.id, {
      state: 'refused',
      tries: 1,
      settledAt,
      answer: '550 5.1.1 <no> such box',
    });
  });
  const refused = plain(await visitor.text('/mails?state=refused'));
  expect(refused).toContain('Pia Lanternby reminder');
  expect(refused).toContain('refused for good Call this rider.');
  expect(refused).toContain('The relay said: 550 5.1.1 <no> such box');
  expect(refused).not.toContain('list for the workshop F-');
  expect(plain(await visitor.text('/mails?state=handed-over'))).toContain('There is no mail of that kind.');
});

test('a waiting mail tells once of what was decided twice, and not of what was withdrawn', async () => {
  const { app, deps, store } = await webWorld();
  const visitor = await signedIn(app);
  await queueNotices({ ...deps, ids: counted() });
  const linesOf = async (): Promise<number> =>
    plain(await visitor.text('/mails')).split('F-0001 lower-leg service, coming up').length - 1;
  const before = await linesOf();
  const told = await store.read(async (tx) => {
    const mail = (await tx.mails.list()).find((one) => one.mail === 'reminder')!;
    return (await tx.notices.listOfMail(mail.id))[0]!;
  });
  await store.write(async (tx) => {
    expect(await tx.notices.add({ ...told, occasion: 'again', cause: 'twice' as Cause })).toBe(true);
  });
  expect(await linesOf()).toBe(before);
  await store.write(async (tx) => {
    for (const one of await tx.notices.listOfMail(told.mailId))
      await tx.notices.withdraw(one.id, deps.clock.now(), false);
  });
  expect(await linesOf()).toBe(before - 1);
});
