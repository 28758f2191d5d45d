/** Holds every line of the workshop's list of the day against the pencil, and that no line is missing. */
import { expect } from 'vitest';
import { isTold } from '../../../../src/core/states.js';
import { CLOSED, NO_ADDRESS, REFUSED, UNCONFIRMED, UNSUBSCRIBES } from './cast.js';
import { type Look, shown } from './look.js';
import { type ReadRow, readDigest } from './readDigest.js';
import { words } from './readMail.js';

export function holdDigest(look: Look, text: string): void {
  const { today, marked } = look.play;
  const digest = readDigest(text);
  look.held.digests += 1;
  expect(CLOSED).not.toContain(today);
  expect(digest.stopped.map(({ tag }) => tag).sort()).toEqual([...marked.keys()].sort());
  for (const row of digest.rows) holdDigestRow(look, row);
  // One row for each job that is told of; of an unknown history one a unit.
  const expected = look.rows
    .filter(({ state }) => isTold(state) && state !== 'stop-riding')
    .filter(({ state, serviceKind }) => state !== 'history-unknown' || serviceKind === 'full')
    .map(({ unit, serviceKind, state }) => `${unit} ${serviceKind} ${state.replace('-', ' ')}`);
  const rows = digest.rows.map(({ tag, kind, state }) => `${tag} ${kind} ${state}`);
  expect([...rows].sort()).toEqual(expected.sort());
  const fresh = [...digest.rows, ...digest.stopped].filter(({ isNew }) => isNew).length;
  const since = look.lastDigest === null ? '' : ` since ${words.day(look.lastDigest as never, today)}`;
  expect(
    digest.summary.startsWith(
      rows.length + digest.stopped.length === 0 ? 'Nothing' : `${fresh} new${since}.`,
    ),
    digest.summary,
  ).toBe(true);
  look.lastDigest = today;
  // The list is written at one moment with the mail that a relay refuses for the first time, before it or after.
  const isOther = (tag: string): boolean => look.isRefusalKnown || !tag.endsWith(`-${REFUSED}`);
  const called = digest.calls
    .filter(({ tag }) => isOther(tag))
    .map(({ tag, kind, state }) => `${tag} ${kind} ${state}`);
  const calls = look.calls
    .filter(({ unit }) => isOther(unit))
    .map(({ unit, serviceKind, state }) => `${unit} ${serviceKind} ${words.state[state]}`);
  look.isRefusalKnown ||= look.calls.some(({ unit }) => unit.endsWith(`-${REFUSED}`));
  expect(called).toEqual(calls);
  for (const call of digest.calls) holdCall(look, call);
}

function holdDigestRow(
  look: Look,
  { tag, kind, state, hours, limit, lead, between, whose, isNew }: ReadRow,
): void {
  const { today } = look.play;
  const book = look.figures(tag, kind);
  const row = look.row(tag, kind);
  const about = `${today} ${tag} ${kind} ${state}: ${hours}; ${limit}`;
  look.held.rows += 1;
  const n = tag.slice(2);
  expect(whose, about).toBe(`Rider ${n}, Bike number ${n}`);
  const [terrain, moving] = [shown(book.terrain), shown(book.moving)];
  if (state === 'history unknown') {
    expect(hours, about).toBe(`terrain ${terrain} h, moving ${moving} h since it came`);
    expect([limit, lead], about).toEqual([null, 'no date']);
  } else
    expect(hours, about).toBe(
      `terrain ${terrain} of ${shown(book.rule.hours)} h, moving ${moving} of ${shown(book.rule.ceiling)} h`,
    );
  if (state === 'due' || state === 'over interval') {
    const firsts = look.play.pencil.firstReached(book);
    const said = firsts.map(
      ({ limit: of, on }) =>
        `${of === 'months' ? `${book.rule.months} months` : of} reached on ${words.day(on as never, today)}`,
    );
    expect(said, about).toContain(limit);
    expect(lead, about).toBe('now');
  }
  if (state === 'coming up') {
    const { p10, p50, p90 } = row.likely;
    if (limit?.includes('months up on'))
      expect(limit, about).toBe(
        `${book.rule.months} months up on ${words.day(book.monthsEnd as never, today)}`,
      );
    else expect(limit, about).toMatch(/^(terrain|moving) hours first$/);
    expect(lead, about).toBe(p50 === null ? 'no date' : words.day(p50, today));
    if (between !== null)
      expect(between, about).toBe(`${words.day(p10!, today)} to ${words.day(p90!, today)}`);
    else expect(p10, about).toBe(p90);
  }
  // New is what no list told of in this state and period before; what returned may be new again.
  const key = look.listKey(tag, kind, state);
  if (!look.listed.has(key)) expect(isNew, `${about} is new`).toBe(true);
  look.listed.add(key);
}

function holdCall(
  look: Look,
  { rider, phone, tag, reason }: ReturnType<typeof readDigest>['calls'][number],
): void {
  const n = Number(tag.slice(2));
  look.held.calls += 1;
  expect([rider, phone]).toEqual([`Rider ${n}`, `+000 555 01${n}`]);
  const why =
    {
      [REFUSED]: 'refused',
      [NO_ADDRESS]: 'no-address',
      [UNCONFIRMED]: 'unconfirmed',
      [UNSUBSCRIBES]: 'unsubscribed',
    }[n] ?? 'told-twice';
  expect(reason).toBe(words.callReason[why as 'refused']);
}
