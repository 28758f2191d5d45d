/**
 * A season day by day, morning and evening: every mail is read whole and held against what pencil and paper make of the
 * same days; none is doubled, none is missing, nobody is left untold. `STANCHION_SEASON_DAYS=365` plays a year.
 */
import { simpleParser } from 'mailparser';
import MailComposer from 'nodemailer/lib/mail-composer';
import { expect, test } from 'vitest';
import { mailOptions } from '../../../../src/mail/mailOptions.js';
import { NO_ADDRESS, RIDERS, STOPPED, UNCONFIRMED } from './cast.js';
import { expectAllListed, expectAllTold, expectCounts } from './holdAll.js';
import { holdMail } from './holdMail.js';
import { Look } from './look.js';
import { Play } from './seasonPlay.js';

const DAYS = Number(process.env.STANCHION_SEASON_DAYS ?? 60);

test('every mail of a season is true on its day, none is doubled or missing, and nobody is left untold', {
  timeout: 3_600_000,
}, async () => {
  const play = await Play.open();
  const look = new Look(play);
  const round = async (): Promise<void> => {
    const before = play.mailed.length;
    await play.world.beat();
    await look.lookAround();
    for (const { mail } of play.mailed.slice(before)) {
      const read = await simpleParser(await new MailComposer(mailOptions(mail)).compile().build());
      expect(read.subject).toBe(mail.subject);
      expect((read.text ?? '').replace(/\s+/g, ' ').trim()).toBe(mail.text.replace(/\s+/g, ' ').trim());
      expect(read.messageId).toMatch(/@example\.org>$/);
      await holdMail(look, look.kindOf(mail.messageId), mail);
    }
    await expectAllTold(look);
  };
  for (let i = 0; i < DAYS; i += 1) {
    play.clock(i, '07:30:00');
    await play.happen(i);
    await round();
    expectAllListed(look);
    play.clock(i, '18:00:00');
    await play.ride(i);
    if (i % 7 === 5) await play.serve();
    if (i % 4 === 1 || i % 14 === 13) await round();
  }
  const { mailed } = play;
  expect(new Set(mailed.map(({ mail }) => mail.messageId)).size).toBe(mailed.length);
  const subjectsTo = (n: number): string[] =>
    mailed.filter(({ mail }) => mail.to.address === `r${n}@example.org`).map(({ mail }) => mail.subject);
  expect(subjectsTo(UNCONFIRMED)).toEqual(['Test bench: is this address yours?']);
  expect(subjectsTo(NO_ADDRESS)).toEqual([]);
  expect(subjectsTo(STOPPED).filter((subject) => subject.startsWith('Do not ride'))).toHaveLength(1);
  await expectCounts(look);
  expect(look.faults.slice(0, 40)).toEqual([]);
  const { figures, reminders, digests, rows, calls, rides, freeDays, stops, silences } = look.held;
  console.log(`${DAYS} days, ${2 * RIDERS} units: ${JSON.stringify(look.held)}`);
  // Each kind of thing was really there to be held.
  for (const [what, count] of Object.entries({
    figures,
    reminders,
    digests,
    rows,
    calls,
    rides,
    freeDays,
    stops,
    silences,
  }))
    expect(count, what).toBeGreaterThan(0);
  for (const reason of ['months', 'terrain hours', 'months ahead', 'unknown', 'likely'])
    expect(look.reasons.get(reason) ?? 0, reason).toBeGreaterThan(0);
});
