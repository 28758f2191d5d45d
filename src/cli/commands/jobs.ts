import type { Command } from 'commander';
import { type DayJob, type DayPlan, getDayPlan } from '../../flow/plan/dayPlan.js';
import { listJobs, type ShownJob } from '../../flow/plan/jobs.js';
import { wordsFor } from '../../languages/index.js';
import type { Day } from '../../units.js';
import type { Output } from '../output.js';
import { tell, useText } from './plan.js';

const words = wordsFor('en');

export const jobs = (_options: unknown, command: Command) => tell(command, listJobs, showJobs);

export const dayOf = (on: Day | undefined, _options: unknown, command: Command) =>
  tell(command, (tx, now) => getDayPlan(tx, now, on), showDay);

function showDay(out: Output, plan: DayPlan): void {
  out.object({
    ...plan,
    jobs: plan.jobs.map(({ one: { unit, bike }, ...job }) => ({
      unit: unit.tag,
      unitKind: unit.unitKind,
      bike: bike?.handle ?? null,
      ...job,
    })),
  });
  out.line(
    `${words.weekday(plan.on, plan.on)}: ${plan.isOpen ? `${plan.usableMinutes} bench minutes to use` : 'closed'}`,
  );
  out.table(
    ['', 'unit', 'bike', 'service', 'why', 'by', 'minutes', 'so far', ''],
    plan.jobs.map((job, i) => [
      String(i + 1),
      job.one.unit.tag,
      job.one.bike?.handle ?? 'boxed',
      jobText(job),
      job.race === null ? DAY_WHY[job.reason] : job.race,
      job.by ?? '',
      String(job.minutes),
      String(job.minutesSoFar),
      job.fits ? '' : 'another day',
    ]),
  );
  if (plan.jobs.length === 0) out.line('There is no job for this day.');
  else if (plan.parts.length > 0) out.line(`Takes: ${words.list(plan.parts.map(useText))}.`);
}

const DAY_WHY: Readonly<Record<DayPlan['jobs'][number]['reason'], string>> = {
  booked: 'booked',
  'asked-for': 'asked for',
  'on-the-bench': 'on the bench',
  race: 'race',
  'over-interval': 'over interval',
  due: 'due',
};

/** What a unit is at the workshop for. */
function jobText({
  serviceKind,
  beside,
  isUnknown,
  isAhead,
}: Pick<DayJob, 'serviceKind' | 'beside' | 'isUnknown' | 'isAhead'>): string {
  if (isUnknown) return 'inspect: history unknown';
  if (serviceKind === null) return 'look at it';
  const job = words.jobs([serviceKind, ...beside]);
  return isAhead ? `next: ${job}` : job;
}

function showJobs(out: Output, jobs: readonly ShownJob[]): void {
  for (const { one, stay, rider, backTo: _, isUnknown, isAhead, isServed: _served, ...job } of jobs) {
    const { unitId: _unit, ...said } = stay.job;
    out.object({
      unit: one.unit.tag,
      unitKind: one.unit.unitKind,
      bike: one.bike?.handle ?? null,
      rider: rider?.handle ?? null,
      ...said,
      ...job,
      historyUnknown: isUnknown,
      nothingDue: isAhead,
    });
  }
  if (jobs.length === 0) out.line('No unit is at the workshop.');
  else
    out.table(
      ['unit', 'step', 'promised', 'for', 'minutes', 'waits for', 'since', 'bike', 'rider', 'phone', 'wish'],
      jobs.map((job) => [
        job.one.unit.tag,
        words.jobStep[job.stay.job.step],
        job.stay.job.promisedFor ?? '',
        job.isServed ? `did: ${words.list(job.did.map((kind) => words.serviceKind(kind)))}` : jobText(job),
        String(job.minutes),
        job.stay.job.missing ?? '',
        job.stay.job.arrivedOn,
        job.one.bike?.handle ?? 'boxed',
        job.rider?.name ?? '',
        job.rider?.phone ?? '',
        job.stay.job.wish ?? '',
      ]),
    );
}
