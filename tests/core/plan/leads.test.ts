import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import type { Subject } from '../../../src/core/notices/notice/notice.js';
import {
  answerOf,
  decideLeads,
  isAskedWhetherItCame,
  isLive,
  type Lead,
  type LeadDecision,
  type LeadOffer,
} from '../../../src/core/plan/leads.js';
import { STATES, WEEKDAYS } from '../../../src/core/tokens.js';
import { day } from '../../../src/units.js';
import { at, likelyOf } from '../ledger/ledgerBuilders.js';
import { subjectOf } from '../notices/noticeWorld.js';

const today = day('2025-06-10');
const lead = (rest: Partial<Lead> = {}): Lead => ({
  id: 'l1',
  unitId: 'u1',
  riderId: 'r1',
  serviceKind: 'lower-leg',
  wanted: 'lower-leg',
  periodId: 'start',
  periodStart: day('2025-01-01'),
  state: 'open',
  step: null,
  day: null,
  changedAt: at('2025-06-01T08:00:00Z'),
  ...rest,
});
const EVERY_DAY = { openDays: WEEKDAYS, closedDays: [] };
const full = (state: Subject['standing']['state'], rest: Parameters<typeof subjectOf>[1] = {}) =>
  subjectOf(state, { serviceKind: 'full', hoursLeft: 150, ...rest });

describe('decideLeads', () => {
  it('opens one for what is wanted by a rider, and keeps it', () => {
    const [decision] = decideLeads([subjectOf('due')], [], today, EVERY_DAY);
    expect(decision).toMatchObject({ does: 'open', offer: { serviceKind: 'lower-leg', riderId: 'r1' } });
    expect(decideLeads([subjectOf('due')], [lead()], today, EVERY_DAY)).toEqual([]);
    expect(decideLeads([subjectOf('due', { riderId: null })], [], today, EVERY_DAY)).toEqual([]);
    expect(decideLeads([subjectOf('in-time')], [], today, EVERY_DAY)).toEqual([]);
  });

  it('offers the larger job in place of the smaller one, also in a lead that is open already', () => {
    const unit = [subjectOf('coming-up'), full('coming-up')];
    const opened = decideLeads(unit, [], today, EVERY_DAY);
    expect(opened).toHaveLength(1);
    expect(opened[0]).toMatchObject({ does: 'open', offer: { serviceKind: 'full', wanted: 'full' } });
    expect(decideLeads(unit, [lead()], today, EVERY_DAY)).toMatchObject([
      { does: 'change', leadId: 'l1', offer: { serviceKind: 'full' } },
    ]);
    expect(decideLeads(unit, [lead({ state: 'booked', day: today })], today, EVERY_DAY)).toEqual([]);
  });

  it('asks whether it came once its day has passed, and ends what nobody spoke of for a week', () => {
    const on = (back: number) => lead({ state: 'booked', day: addDays(today, -back) });
    expect([0, 1, 7].map((back) => isAskedWhetherItCame(on(back), today, EVERY_DAY))).toEqual([
      false,
      true,
      true,
    ]);
    expect(isAskedWhetherItCame({ state: 'asked-for', day: addDays(today, -1) }, today, EVERY_DAY)).toBe(
      false,
    );
    const unit = [subjectOf('due')];
    expect(decideLeads(unit, [on(7)], today, EVERY_DAY)).toEqual([]);
    for (const state of ['asked-for', 'booked'] as const)
      expect(decideLeads(unit, [{ ...on(8), state }], today, EVERY_DAY)).toMatchObject([
        { does: 'end', leadId: 'l1' },
        { does: 'open', offer: { unitId: 'u1' } },
      ]);
    // It came: it lies at the workshop.
    expect(decideLeads([subjectOf('on-the-bench')], [on(8)], today, EVERY_DAY)).toEqual([]);
    // One unit of its visit came.
    const mate = { ...on(8), unitId: 'u2' };
    const both = [...unit, subjectOf('on-the-bench', { unitId: 'u2' })];
    expect(decideLeads(both, [on(8), mate], today, EVERY_DAY)).toEqual([]);
  });

  it('asks on the next open day, and counts the week from there', () => {
    // 10 June 2025 is a Tuesday; the workshop is open on Wednesdays and was closed on the 11th.
    const open = { openDays: ['wed'], closedDays: [day('2025-06-11')] } as const;
    const booked = lead({ state: 'booked', day: day('2025-06-10') });
    expect(isAskedWhetherItCame(booked, day('2025-06-17'), open)).toBe(false);
    expect(isAskedWhetherItCame(booked, day('2025-06-18'), open)).toBe(true);
    expect(decideLeads([subjectOf('due')], [booked], day('2025-06-24'), open)).toEqual([]);
    expect(decideLeads([subjectOf('due')], [booked], day('2025-06-25'), open)[0]).toMatchObject({
      does: 'end',
    });
  });

  it('is one for jobs of which none includes the other: one visit. Common practice, no source', () => {
    const unit = [
      subjectOf('due', { serviceKind: 'air-spring' }),
      subjectOf('due', { serviceKind: 'damper' }),
      subjectOf('due'),
    ];
    const offer = { serviceKind: 'air-spring', beside: ['damper'] };
    expect(decideLeads(unit, [], today, EVERY_DAY)).toMatchObject([{ does: 'open', offer }]);
    const held = lead({ ...offer, wanted: 'air-spring' });
    expect(decideLeads(unit, [held], today, EVERY_DAY)).toEqual([]);
    expect(decideLeads(unit, [{ ...held, beside: [] }], today, EVERY_DAY)).toMatchObject([
      { does: 'change', offer },
    ]);
  });

  it('finishes one whose service was logged, and not one whose service was taken back', () => {
    const served = subjectOf('in-time', { periodId: 's1', periodStart: day('2025-06-09') });
    expect(decideLeads([served], [lead()], today, EVERY_DAY)).toEqual([{ does: 'drop', leadId: 'l1' }]);
    for (const state of ['asked-for', 'booked'] as const)
      expect(decideLeads([served], [lead({ state })], today, EVERY_DAY)).toEqual([
        { does: 'finish', leadId: 'l1', unitId: 'u1' },
      ]);
    const takenBack = subjectOf('due', { periodId: 'start', periodStart: day('2024-01-01') });
    expect(
      decideLeads([takenBack], [lead({ periodId: 's1', periodStart: day('2025-05-01') })], today, EVERY_DAY),
    ).toMatchObject([{ does: 'change', offer: { periodId: 'start' } }]);
  });

  it('drops an open one whose reason has gone, and never one that has a day', () => {
    expect(decideLeads([subjectOf('in-time')], [lead()], today, EVERY_DAY)).toEqual([
      { does: 'drop', leadId: 'l1' },
    ]);
    expect(decideLeads([], [lead()], today, EVERY_DAY)).toEqual([{ does: 'drop', leadId: 'l1' }]);
    expect(
      decideLeads([subjectOf('in-time')], [lead({ state: 'asked-for', day: today })], today, EVERY_DAY),
    ).toEqual([]);
  });

  it('opens none again in the service period in which nobody wants it, and one at once where a day was declined', () => {
    const declined = lead({ state: 'declined', step: 'not-wanted' });
    const dayDeclined = lead({ state: 'declined', step: 'declined', day: today });
    expect(decideLeads([subjectOf('due')], [dayDeclined], today, EVERY_DAY)).toMatchObject([
      { does: 'open' },
    ]);
    expect(decideLeads([subjectOf('due')], [declined], today, EVERY_DAY)).toEqual([]);
    const next = subjectOf('due', { periodId: 's2', periodStart: day('2025-06-01') });
    expect(decideLeads([next], [declined], today, EVERY_DAY)).toMatchObject([{ does: 'open' }]);
  });

  it('never leaves a unit with two live leads, and deciding again changes nothing', () => {
    const subject = fc.record({
      unitId: fc.constantFrom('u1', 'u2'),
      serviceKind: fc.constantFrom('lower-leg', 'damper', 'full'),
      state: fc.constantFrom(...STATES),
      riderId: fc.constantFrom('r1', 'r2', null),
      periodId: fc.constantFrom('start', 's1', 's2'),
      hoursLeft: fc.integer({ min: -20, max: 100 }),
      p50: fc.constantFrom(null, '2025-06-15', '2025-08-01'),
    });
    const move = fc.constantFrom('asked-for', 'booked', 'declined', null);
    const START = { start: '2025-01-01', s1: '2025-03-01', s2: '2025-06-05' };
    const step = fc.record({ subjects: fc.array(subject, { maxLength: 5 }), move, pick: fc.nat(3) });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        let leads: Lead[] = [];
        let count = 0;
        const apply = (decision: LeadDecision): void => {
          const changed = (id: string, change: Partial<Lead>) => {
            leads = leads.map((one) => (one.id === id ? { ...one, ...change } : one));
          };
          const made = (offer: LeadOffer): Lead => lead({ ...offer, id: `l${++count}` });
          if (decision.does === 'open') leads.push(made(decision.offer));
          if (decision.does === 'change') changed(decision.leadId, decision.offer);
          if (decision.does === 'finish') changed(decision.leadId, { state: 'done' });
          if (decision.does === 'drop') leads = leads.filter((one) => one.id !== decision.leadId);
        };
        const wanted = () => leads.filter((one) => one.state !== 'done');
        for (const { subjects, move: next, pick } of steps) {
          const unique = new Map(subjects.map((one) => [`${one.unitId} ${one.serviceKind}`, one]));
          const rider = new Map(subjects.map((one) => [one.unitId, one.riderId]));
          const all = [...unique.values()].map(({ state, p50, riderId: _, ...rest }) =>
            subjectOf(state, {
              ...rest,
              riderId: rider.get(rest.unitId) ?? null,
              periodStart: day(START[rest.periodId]),
              likely: likelyOf(p50),
            }),
          );
          for (const decision of decideLeads(all, wanted(), today, EVERY_DAY)) apply(decision);
          expect(decideLeads(all, wanted(), today, EVERY_DAY)).toEqual([]);
          for (const unitId of ['u1', 'u2'])
            expect(leads.filter((one) => isLive(one) && one.unitId === unitId).length).toBeLessThanOrEqual(1);
          const live = leads.filter(isLive);
          const chosen = live[pick % Math.max(1, live.length)];
          if (next !== null && chosen)
            leads = leads.map((one) =>
              one === chosen
                ? {
                    ...one,
                    state: next,
                    ...(next === 'declined' ? { day: null, step: 'not-wanted' } : { day: today, step: next }),
                  }
                : one,
            );
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('answerOf', () => {
  const later = { unitId: 'u1', riderId: 'r1', at: at('2025-06-05T08:00:00Z'), until: day('2025-07-01') };

  it('is quiet until a week after a day asked for or booked, and until a chosen day', () => {
    expect(answerOf([], undefined)).toBeNull();
    expect(answerOf([lead()], undefined)).toBeNull();
    for (const state of ['asked-for', 'booked'] as const)
      expect(answerOf([lead({ state, day: day('2025-06-12') })], undefined)).toEqual({
        at: lead().changedAt,
        quietUntil: '2025-06-19',
      });
    expect(answerOf([], later)).toEqual({ at: later.at, quietUntil: '2025-07-01' });
  });

  it('takes the longer silence and the later answer', () => {
    const booked = lead({ state: 'booked', day: day('2025-07-10') });
    expect(answerOf([booked], later)).toEqual({ at: later.at, quietUntil: '2025-07-17' });
    expect(answerOf([lead({ state: 'declined' })], undefined)).toEqual({
      at: lead().changedAt,
      quietUntil: null,
    });
  });
});
