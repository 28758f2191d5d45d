/** What riders do with the day of a visit: each step is a fact, both sides hear of it, and a place is never held twice. */
import { expect, it } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { bookLead, declineLead } from '../../../src/flow/plan/leads.js';
import { day } from '../../../src/units.js';
import { linkOf, RiderWorld } from '../riderWorld.js';

const plain = (text: string): string => text.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

async function asked() {
  const world = await RiderWorld.open();
  const ask = linkOf(await world.reminderTo('r1@example.org'), 'ask');
  const days = async () =>
    [...(await world.text(ask)).matchAll(/name="day" value="([^"]+)"/g)].map(([, on = '']) => on);
  const [first = ''] = await days();
  await world.post(ask, { day: first });
  const { ids } = world.deps;
  const desk = () => ({ by: 'owner', at: world.deps.clock.now() });
  const lead = async () => (await world.lead('F-1'))!;
  const book = async (on: string) =>
    world.store.write(async (tx) => bookLead(tx, (await lead()).id, day(on), desk(), ids));
  const decline = async () =>
    world.store.write(async (tx) => declineLead(tx, (await lead()).id, desk(), ids));
  /** The mails to the rider and the workshop since, but for reminders and the list. */
  const heard = async () => {
    const mails = (await world.beat()).filter(({ subject }) => !/Services|hours|due/.test(subject));
    const to = (who: string) => mails.filter(({ to: { address } }) => address === who);
    return { rider: to('r1@example.org'), workshop: to('bench@example.org') };
  };
  const sound = async () => expect((await checkLedger(world.store)).faults).toEqual([]);
  return { world, ask, first, days, lead, book, decline, heard, sound };
}

const methodOf = (mail: { readonly attachments?: readonly { readonly content: unknown }[] } | undefined) =>
  /METHOD:(\w+)/.exec(String(mail?.attachments?.[0]?.content ?? ''))?.[1];
const sequenceOf = (mail: { readonly attachments?: readonly { readonly content: unknown }[] } | undefined) =>
  Number(/SEQUENCE:(\d+)/.exec(String(mail?.attachments?.[0]?.content ?? ''))?.[1]);

it('a booked day is moved by one tap: it stays booked, the bench holds one place, and both hear of it', async () => {
  const { world, ask, first, days, lead, book, heard, sound } = await asked();
  await book(first);
  const told = await heard();
  expect(told.rider.map(methodOf)).toEqual(['PUBLISH']);
  // The mail leads to the page where it is changed.
  const change = linkOf(told.rider[0]!, 'ask');
  expect(plain(await world.text(change))).toContain('is booked');
  const [other = ''] = (await days()).slice(-1);
  await world.post(change, { day: other });
  expect(await lead()).toMatchObject({ state: 'booked', day: other });
  const moved = await heard();
  expect(moved.rider.map(({ subject }) => subject)).toEqual([expect.stringMatching(/^New day: Moss Hopper/)]);
  // Source: RFC 5546 2.1.4, a later version of an entry has a larger SEQUENCE.
  expect(sequenceOf(moved.rider[0])).toBeGreaterThan(sequenceOf(told.rider[0]));
  expect(moved.workshop.map(({ subject }) => subject)).toEqual([
    expect.stringMatching(/^Rider 1 moved a booked day to /),
  ]);
  expect(await days()).toContain(first);
  // Moved to and fro before the workshop heard: nothing to tell.
  await world.post(ask, { day: first });
  await world.post(ask, { day: other });
  expect((await heard()).workshop).toEqual([]);
  await sound();
});

it('a booked day is cancelled: its place is free, the calendar forgets it, the workshop hears, another is one tap away', async () => {
  const { world, ask, first, days, lead, book, heard, sound } = await asked();
  await book(first);
  await heard();
  const answer = plain(await (await world.post(ask, { action: 'withdraw' })).text());
  expect(answer).toContain('cancelled');
  expect(answer).toContain('Choose another day');
  expect(await lead()).toMatchObject({ state: 'open', day: null });
  const { rider, workshop } = await heard();
  expect(rider.map(methodOf)).toEqual(['CANCEL']);
  expect(rider[0]!.text).toContain('Choose another day');
  expect(workshop.map(({ subject }) => subject)).toEqual([
    expect.stringMatching(/^Rider 1 does not come on /),
  ]);
  const [again = ''] = await days();
  await world.post(linkOf(rider[0]!, 'ask'), { day: again });
  expect(await lead()).toMatchObject({ state: 'asked-for', day: again });
  await sound();
});

it('a day that the workshop declines comes with others to tap, and the job can be asked for again', async () => {
  const { world, first, lead, decline, heard, sound } = await asked();
  await decline();
  const { rider } = await heard();
  expect(rider).toHaveLength(1);
  expect(rider[0]!.text).toContain('Other free days');
  const link = linkOf(rider[0]!, 'ask');
  const page = await world.text(link);
  expect(plain(page)).toContain('The workshop could not take it on');
  const [again = ''] = [...page.matchAll(/name="day" value="([^"]+)"/g)]
    .map(([, on = '']) => on)
    .filter((on) => on !== first);
  await world.post(link, { day: again });
  expect(await lead()).toMatchObject({ state: 'asked-for', day: again });
  expect(plain(await world.text(link))).not.toContain('could not take');
  await sound();
});

it('on the day itself only the workshop changes it; once it went by the rider is asked, and either answer changes something', async () => {
  const { world, ask, first, lead, book, heard, sound } = await asked();
  await book(first);
  await heard();
  world.now = `${first}T09:00:00Z`;
  expect(plain(await world.text(ask))).toContain('Your day is today');
  expect((await world.post(ask, { action: 'withdraw' })).status).toBe(422);
  expect(await lead()).toMatchObject({ state: 'booked', day: first });
  world.now = new Date(Date.parse(world.now) + 86_400_000).toISOString();
  const page = await world.text(ask);
  expect(plain(page)).toContain('Was the bike there?');
  const own = linkOf(
    [...world.sent]
      .reverse()
      .find(({ to, text }) => to.address === 'r1@example.org' && text.includes('/r/page/'))!,
    'page',
  );
  expect(plain(await world.text(own))).toContain('Was the bike there on');
  await world.post(ask, { action: 'withdraw' });
  expect(await lead()).toMatchObject({ state: 'open', day: null });
  expect((await heard()).workshop.map(({ subject }) => subject)).toEqual([
    expect.stringMatching(/^Rider 1 did not come on /),
  ]);
  await sound();
});

it('another day tapped after the day went by is asked for, not booked; unsaid, the booking ends by itself', async () => {
  const late = async () => {
    const one = await asked();
    await one.book(one.first);
    await one.heard();
    return one;
  };
  const { world, ask, first, days, lead, sound } = await late();
  world.now = new Date(Date.parse(`${first}T09:00:00Z`) + 86_400_000).toISOString();
  const [next = ''] = await days();
  await world.post(ask, { day: next });
  expect(await lead()).toMatchObject({ state: 'asked-for', day: next });
  await sound();
  const unsaid = await late();
  unsaid.world.now = new Date(Date.parse(`${unsaid.first}T09:00:00Z`) + 12 * 86_400_000).toISOString();
  await unsaid.world.beat();
  expect(await unsaid.lead()).toMatchObject({ state: 'open', day: null });
  await unsaid.sound();
});

it('a job that its rider no longer wants frees a booked day, and the workshop hears of it', async () => {
  const { world, first, book, heard, sound } = await asked();
  await book(first);
  await heard();
  const gone = linkOf(await world.reminderTo('r1@example.org'), 'gone');
  await world.post(gone, { why: 'stored' });
  expect((await heard()).workshop.map(({ subject }) => subject)).toEqual([
    expect.stringMatching(/^Rider 1 does not come on /),
  ]);
  await sound();
});
