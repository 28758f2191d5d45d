/** What mails left unsaid, and what they said too often. */
import { expect } from 'vitest';
import { isTold, isWanted } from '../../../../src/core/states.js';
import { CLOSED, numbers } from './cast.js';
import { daysFrom, type Look, type Said } from './look.js';
import { type Kind, RESTARTS } from './pencil.js';

const STAGES = ['coming up', 'due', 'over interval'];

/** Whatever is due or over was told of to its rider in this period, waits for the day's turn, or is a call to make. */
export const expectAllTold = (look: Look): Promise<void> => look.tell('told', () => allTold(look));

async function allTold(look: Look): Promise<void> {
  const { play } = look;
  const { today } = play;
  const waiting = await play.world.store.read(async (tx) => {
    const mails = new Set((await tx.mails.listIn('waiting')).map(({ id }) => id));
    return (await tx.notices.list()).filter(
      ({ mailId, withdrawnAt }) => mails.has(mailId) && withdrawnAt === null,
    );
  });
  for (const n of numbers)
    for (const tag of [`F-${n}`, `A-${n}`])
      for (const kind of play.pencil.kindsOf(tag)) {
        const isStopped = play.marked.has(tag);
        const row = look.row(tag, kind);
        if (isStopped ? play.told.has(tag) : !isWanted(row.state)) continue;
        if (today < (play.quiet.get(tag) ?? '')) continue;
        const rank = (state: string): number => STAGES.indexOf(state.replace('-', ' '));
        const larger = (one: Kind): boolean => RESTARTS[one].includes(kind);
        const isSaid = isStopped
          ? play.mailed.some(
              ({ mail }) => mail.to.address === `r${n}@example.org` && mail.subject.startsWith('Do not ride'),
            )
          : look.said.some(
              (one) =>
                one.tag === tag &&
                larger(one.kind) &&
                one.since === look.figures(tag, one.kind).since &&
                (one.kind !== kind || rank(one.state) >= rank(row.state)),
            );
        const isWaiting = waiting.some((one) => one.to !== 'workshop' && one.unitId === row.unitId);
        const isCall = look.calls.some((call) => call.unit === tag);
        if (!isSaid && !isWaiting && !isCall)
          look.faults.push(`${today}: ${tag} ${kind} ${row.state} is told to nobody`);
      }
}

/** By the morning of an open day its list has named every job that is told of, in its state. */
export function expectAllListed(look: Look): void {
  const { today } = look.play;
  if (CLOSED.includes(today) || [0, 6].includes(new Date(today).getUTCDay())) return;
  for (const { unit, serviceKind, state } of look.rows) {
    if (!isTold(state) || state === 'stop-riding') continue;
    if (state === 'history-unknown' && serviceKind !== 'full') continue;
    if (!look.listed.has(look.listKey(unit, serviceKind as Kind, state.replace('-', ' '))))
      look.faults.push(`${today}: ${unit} ${serviceKind} ${state} is in no list`);
  }
}

/** At most one reminder a day a rider and four a period; what is said again waited, or had gone away. */
export const expectCounts = (look: Look): Promise<void> => look.tell('counts', () => counts(look));

function counts(look: Look): void {
  expect(new Set(look.reminded).size, 'one reminder a day').toBe(look.reminded.length);
  const key = ({ n, tag, kind, since }: Said): string => JSON.stringify([n, tag, kind, since]);
  for (const one of new Set(look.said.map(key))) {
    const all = look.said.filter((said) => key(said) === one);
    expect(all.length, one).toBeLessThanOrEqual(4);
    all.forEach((said, i) => {
      const before = all.slice(0, i).findLast(({ state }) => state === said.state);
      if (!before) return;
      const left = (look.states.get(`${said.tag} ${said.kind}`) ?? []).some(
        ({ on, state }) => on > before.on && on <= said.on && !isWanted(state as 'due'),
      );
      const isRepeat = said.state === 'coming up' && daysFrom(before.on, said.on) >= 21;
      expect(isRepeat || left, `${one} ${said.state} on ${before.on} and ${said.on}`).toBe(true);
    });
  }
}
