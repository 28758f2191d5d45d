/** Holds every line of a reminder against the pencil. */
import { expect } from 'vitest';
import { CLOSED, LATER, NO_ADDRESS, REFUSED, UNCONFIRMED } from './cast.js';
import { type Look, shown } from './look.js';
import type { Figures } from './pencil.js';
import { dayIn, words } from './readMail.js';
import { type ReadItem, readReminder } from './readReminder.js';

export function holdReminder(look: Look, n: number, subject: string, text: string): void {
  const { today, marked, quiet } = look.play;
  const mail = readReminder(subject, text);
  look.held.reminders += 1;
  look.reminded.push(`r${n} ${today}`);
  expect([REFUSED, NO_ADDRESS, UNCONFIRMED]).not.toContain(n);
  const [first, ...more] = mail.items;
  expect(subject.startsWith(`${first!.bike}: `), subject).toBe(true);
  if (more.length > 0 && !subject.endsWith('…')) expect(subject).toContain(`, and ${more.length} more`);
  for (const item of mail.items) {
    expect(item.bike, subject).toBe(`Bike number ${n}`);
    expect(Number(item.tag.slice(2)), subject).toBe(n);
    expect(marked.has(item.tag), `${item.tag} is stopped`).toBe(false);
    expect(today < (quiet.get(item.tag) ?? '') && n === LATER, `${item.tag} asked for quiet`).toBe(false);
    holdItem(look, item, text);
    look.said.push({
      ...{ n, on: today },
      tag: item.tag,
      kind: item.kind,
      since: look.figures(item.tag, item.kind).since,
      state: item.state,
    });
  }
  expect(
    mail.items.some(({ state }) => state !== 'history unknown'),
    'never alone',
  ).toBe(true);
  for (const { days } of mail.freeDays) for (const day of days) holdFreeDay(look, dayIn(day, today));
  holdRides(look, n, mail.rides);
  const buttons = mail.links.filter((one) => one === 'ask').length;
  expect(buttons, 'one button a bike').toBe(1);
  expect(mail.links).toContain('stop');
}

function holdFreeDay(look: Look, day: string): void {
  look.held.freeDays += 1;
  expect(CLOSED).not.toContain(day);
  expect([0, 6]).not.toContain(new Date(day).getUTCDay());
  expect(day > look.play.today).toBe(true);
}

function holdItem(look: Look, item: ReadItem, text: string): void {
  const { today } = look.play;
  const book = look.figures(item.tag, item.kind);
  const about = `${today} ${item.tag} ${item.kind} ${text}`;
  const state =
    item.state === 'coming up' ? 'open' : item.state === 'history unknown' ? 'unknown' : item.state;
  expect(state, about).toBe(book.state);
  if (item.state === 'coming up') expect(look.row(item.tag, item.kind).state, about).toBe('coming-up');
  if (item.terrain !== null && item.moving !== null) {
    look.held.figures += 1;
    expect(item.terrain.used, about).toBe(shown(book.terrain));
    expect(item.terrain.of, about).toBe(shown(book.rule.hours));
    expect(item.moving.used, about).toBe(shown(book.moving));
    expect(item.moving.of, about).toBe(shown(book.rule.ceiling));
    const left = book.rule.hours - book.terrain;
    if (item.terrain.left !== null)
      expect(item.terrain.left, about).toBe(`${shown(Math.abs(left))} h ${left < 0 ? 'over' : 'left'}`);
  } else expect(item.state, about).toBe('history unknown');
  if (item.since !== null) expect(dayIn(item.since, today), about).toBe(book.since);
  if (item.months !== null) expect(item.months, about).toBe(`${book.rule.months} months`);
  holdReason(look, item, book, about);
}

function holdReason(look: Look, item: ReadItem, book: Figures, about: string): void {
  const { pencil, today } = look.play;
  const firsts = pencil.firstReached(book).map(({ limit }) => limit);
  const months = /^(\d+) months since (.+?)(?: are up on (.+))?$/.exec(item.reason ?? '');
  const hours = /^([\d.]+) of ([\d.]+) h \((terrain|moving) hours\)$/.exec(item.reason ?? '');
  if (item.state === 'history unknown') {
    expect(item.reason, about).toBeNull();
    look.note('unknown');
  } else if (months) {
    expect(Number(months[1]), about).toBe(book.rule.months);
    expect(dayIn(months[2]!, today), about).toBe(book.since);
    const isAhead = item.state === 'coming up';
    if (isAhead) expect(dayIn(months[3]!, today), about).toBe(book.monthsEnd);
    else expect(firsts, about).toContain('months');
    expect(book.monthsEnd! > today, about).toBe(isAhead);
    look.note(isAhead ? 'months ahead' : 'months');
  } else if (item.state !== 'coming up') {
    const limit = `${hours?.[3]} hours` as 'terrain hours';
    const [used, most] =
      limit === 'terrain hours' ? [book.terrain, book.rule.hours] : [book.moving, book.rule.ceiling];
    expect(hours?.slice(1, 3), about).toEqual([shown(used), shown(most)]);
    expect(firsts, about).toContain(limit);
    expect(item.isGuess, about).toBe(false);
    look.note(limit);
  } else {
    expect(item.reason, about).toBeNull();
    if (item.likely !== null) look.note('likely');
    expect(item.likely, about).toBe(middleHalf(look, item));
  }
}

/** From the 25 % to the 75 % day of the day's forecast, as stored. */
function middleHalf(look: Look, { tag, kind }: ReadItem): string | null {
  const row = look.row(tag, kind);
  const { forecast, likely } = look.standings.get(`${row.unitId} ${kind}`)!;
  if (likely.p10 === null || likely.p90 === null) return null;
  const days = forecast.quantileDays ?? [];
  const [from, to] = [days[4] ?? likely.p10, days[14] ?? likely.p90];
  const within = (on: typeof from) => (on < likely.p10! ? likely.p10! : on > likely.p90! ? likely.p90! : on);
  return words.about(within(from), within(to), look.play.today);
}

function holdRides(look: Look, n: number, said: ReturnType<typeof readReminder>['rides']): void {
  const { pencil, today } = look.play;
  const known = pencil.known(n, look.play.at).slice(-3).reverse();
  expect(said.map(({ day }) => dayIn(day, today))).toEqual(known.map(({ day }) => day));
  said.forEach((ride, i) => {
    const one = known[i]!;
    look.held.rides += 1;
    expect(ride.bike).toBe(`Bike number ${n}`);
    expect(ride.moving).toBe(shown(one.minutes / 60));
    expect(ride.byHand).toBe(one.ground !== null);
    // Of the ride alone: without what a heavy rider adds to a unit.
    const bare = pencil.terrainOf(one, `A-${n}`);
    expect(ride.terrain).toBe(shown(bare));
    if (one.ground !== null) expect(ride.ground).toBe(one.ground);
  });
}
