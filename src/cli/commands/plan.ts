import type { Command } from 'commander';
import type { Spread } from '../../core/chance/poissonBinomial.js';
import { LEAST_DARK, LEAST_SERVICES } from '../../core/ledger/findingsTeach.js';
import type { PartPlan, PartUse } from '../../core/plan/parts.js';
import { ServiceError } from '../../errors.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { getTeaching } from '../../flow/due/ringsSeen.js';
import { type BenchPlan, getBenchPlan } from '../../flow/plan/benchPlan.js';
import { listRacePlans, type RacePlan } from '../../flow/plan/racePlan.js';
import { wordsFor } from '../../languages/index.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { contextOf } from '../context.js';
import { withStanchion } from '../opened.js';
import type { Output } from '../output.js';

const words = wordsFor('en');

export const load = (options: { weeks: number }, command: Command) =>
  tell(command, (tx, now) => getBenchPlan(tx, now, options.weeks), showLoad);

export const parts = (options: { weeks: number }, command: Command) =>
  tell(command, (tx, now) => getBenchPlan(tx, now, options.weeks), showParts);

export const races = (id: string | undefined, _options: unknown, command: Command) =>
  tell(command, async (tx, now) => chosen(await listRacePlans(tx, now), id), showRaces);

export const findings = (_options: unknown, command: Command) => tell(command, getTeaching, showFindings);

/** Reads with all that is due brought up to date, and shows it. */
export async function tell<T>(
  command: Command,
  read: (tx: Tx, now: Instant) => Promise<T>,
  show: (out: Output, result: T) => void,
): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    await refreshAllDue(stanchion);
    show(out, await stanchion.store.read((tx) => read(tx, stanchion.clock.now())));
  });
}

/** Four places are enough for a chance, and keep lines readable. */
const rounded = (value: number): number => Math.round(value * 1e4) / 1e4;
const roundedSpread = ({ mean, ...rest }: Spread): Spread => ({ mean: rounded(mean), ...rest });
const one = (value: number): string => value.toFixed(1);
const between = ({ p10, p90 }: Spread): string => `${rounded(p10)} to ${rounded(p90)}`;
const percent = (share: number): string => `${Math.round(100 * share)} %`;
export const useText = ({ part, count, measure }: PartUse): string =>
  measure === 'ml' ? `${count} ml ${part}` : `${count} × ${part}`;

function showLoad(out: Output, { weeks, response, leftOut }: BenchPlan): void {
  for (const week of weeks) {
    out.object({
      ...week,
      due: rounded(week.due),
      services: roundedSpread(week.services),
      minutes: roundedSpread(week.minutes),
      chanceTooFull: rounded(week.chanceTooFull),
      response,
      leftOut,
    });
  }
  out.table(
    [
      'week',
      'open days',
      'fall due',
      'booked',
      'expected',
      'between',
      'minutes',
      'between',
      'usable',
      'too full',
    ],
    weeks.map((week) => [
      `${week.from} to ${week.to}`,
      String(week.openDays),
      one(week.due),
      String(week.booked),
      one(week.services.mean),
      between(week.services),
      week.minutes.mean.toFixed(0),
      between(week.minutes),
      String(week.usableMinutes),
      `${percent(week.chanceTooFull)}${week.isCrowded ? ', crowded' : ''}`,
    ]),
  );
  const crowded = weeks.filter((week) => week.isCrowded).map((week) => week.from);
  out.line(crowded.length === 0 ? 'No week is crowded.' : `Crowded: the weeks from ${words.list(crowded)}.`);
  out.line(
    `We assume that ${percent(response)} of the riders who are reminded come. The range is an 80 % range.`,
  );
  out.line(
    `Left out: ${leftOut.onTheBench} on the bench of which nothing is due, ${leftOut.stopRiding} not to be ridden, ${leftOut.historyUnknown} of unknown history, ${leftOut.boxed} boxed.`,
  );
}

const partObject = (plan: PartPlan): object => ({
  ...plan,
  weeks: plan.weeks.map(roundedSpread),
  total: roundedSpread(plan.total),
  orderCount: rounded(plan.orderCount),
});

function showParts(out: Output, { parts, weeks }: BenchPlan): void {
  for (const plan of parts) out.object(partObject(plan));
  out.table(
    ['part', 'on the shelf', 'expected', 'covers 90 %', 'short from', 'order by', 'order'],
    parts.map((plan) => [
      plan.part,
      plan.left === null ? 'not counted' : amount(plan, plan.left),
      amount(plan, Number(one(plan.total.mean))),
      amount(plan, plan.total.p90),
      plan.shortOn ?? '',
      plan.orderBy === null ? '' : plan.isLate ? `${plan.orderBy}, late` : plan.orderBy,
      plan.orderCount > 0 ? amount(plan, rounded(plan.orderCount)) : '',
    ]),
  );
  out.line(
    parts.length === 0
      ? 'No service is expected, and nothing is counted.'
      : `For ${weeks.length} weeks. Parts and oil are as the workshop typed them.`,
  );
}

const amount = ({ measure }: Pick<PartPlan, 'measure'>, count: number): string =>
  measure === 'ml' ? `${count} ml` : String(count);

function chosen(plans: RacePlan[], id: string | undefined): RacePlan[] {
  if (id === undefined) return plans;
  const found = plans.filter((plan) => plan.race === id);
  if (found.length > 0) return found;
  throw new ServiceError('not-found', `There is no race "${id}" to come.`);
}

function showRaces(out: Output, plans: readonly RacePlan[]): void {
  for (const { bikes, jobs, stopped, ...plan } of plans) {
    out.object({
      ...plan,
      bikes: bikes.map(({ bike, units }) => ({
        bike: bike.handle,
        units: units.map(({ tag, weight, rides }) => ({ unit: tag, weight: rounded(weight), rides })),
      })),
      jobs: jobs.map(({ unit, bike, raceId: _race, unitId: _unit, ...job }) => ({
        unit: unit.tag,
        bike: bike.handle,
        ...job,
      })),
      stopped: stopped.map(({ unit, bike }) => ({ unit: unit.tag, bike: bike.handle })),
    });
    out.line(
      `${plan.name} (${plan.race}), ${plan.on}: ${plan.practiceHours} h practice, ${plan.raceHours} h race`,
    );
    for (const { unit, bike } of stopped)
      out.line(`Stop riding ${unit.tag} on ${bike.handle}: have it checked first.`);
    if (jobs.length === 0) out.line('Nothing must be serviced before it.');
    else showRaceJobs(out, jobs);
    if (plan.parts.length > 0) out.line(`Takes: ${words.list(plan.parts.map(useText))}.`);
    out.line('');
  }
  if (plans.length === 0) out.line('There is no race to come. Enter one under Races, or by import.');
}

function showRaceJobs(out: Output, jobs: RacePlan['jobs']): void {
  out.table(
    ['by', 'on the bench', 'unit', 'bike', 'service', 'why', 'terrain h then', 'moving h then', 'then'],
    jobs.map((job) => [
      job.by === null ? 'no open day' : job.isLate ? `${job.by}, late` : job.by,
      job.on ?? (job.spare === null ? 'no time by then' : `no time by then; spare ${job.spare}`),
      job.unit.tag,
      job.bike.handle,
      words.serviceKind(job.serviceKind),
      words.list(
        job.reasons.map(
          ({ serviceKind, limit }) =>
            `${words.serviceKind(serviceKind)}: ${limit === 'none' ? 'history unknown' : words.limit[limit]}`,
        ),
      ),
      one(job.reasons[0]!.terrainHoursThen),
      one(job.reasons[0]!.movingHoursThen),
      job.wantsShakedown ? 'a shakedown ride' : '',
    ]),
  );
}

function showFindings(out: Output, teaching: Awaited<ReturnType<typeof getTeaching>>): void {
  const { services, dark, lesson, allDarkFrom, unusable, unusableBy } = teaching;
  out.object(teaching);
  out.line(
    `Foam rings seen at ${services} services, dark at ${dark}; ${unusable} could not be used (${unusableBy['never-new']}: nobody has said when the rings were new; ${unusableBy['not-said']}: a service before did not say “put back” or “new”; ${unusableBy['not-ridden']}: no riding recorded since).`,
  );
  if (allDarkFrom !== null)
    out.line(
      `All of them were dark, the earliest at ${one(allDarkFrom)} terrain hours. They go dark before that.`,
    );
  if (lesson === null) {
    out.line(
      `Too early to say. It takes at least ${LEAST_SERVICES} services, ${LEAST_DARK} of them with dark rings.`,
    );
    return;
  }
  out.table(
    ['terrain h from', 'share gone dark', 'services'],
    lesson.steps.map((step) => [one(step.hours), percent(step.share), String(step.services)]),
  );
  const { nineOfTen } = lesson;
  out.line(
    nineOfTen === null
      ? 'The rings seen so far are no darker after more hours, so they suggest no interval.'
      : `At ${one(nineOfTen.hours)} terrain hours nine of ten rings are not yet dark (80 % range: ${one(nineOfTen.low)} to ${one(nineOfTen.high)}).`,
  );
  out.line(
    {
      'terrain-hours': 'Terrain hours tell dark rings better than moving hours do.',
      'moving-hours': 'Moving hours tell dark rings better than terrain hours do.',
      undecided: 'Whether terrain or moving hours tell dark rings better: too early to say.',
    }[lesson.better],
  );
  out.line(
    `Dark rings had more terrain hours in ${percent(lesson.terrain)} of all pairs, more moving hours in ${percent(lesson.moving)}.`,
  );
}
