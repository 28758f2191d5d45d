import { html } from 'hono/html';
import { nextOpenDays } from '../../core/days/calendar.js';
import type { JobFact } from '../../core/ledger/facts.js';
import { NEXT_STEPS } from '../../core/ledger/stay.js';
import { JOB_STEPS, type JobStep } from '../../core/tokens.js';
import type { ShownJob } from '../../flow/plan/jobs.js';
import { actButton } from '../cells/actButton.js';
import { pathOfUnit, stopBox } from '../cells/dueCells.js';
import { photoForm } from '../cells/photoCells.js';
import { jobFor, minutesText } from '../cells/planCells.js';

import { comebackFields, comebackText } from '../comebacks/comebackMarkup.js';
import { formToken } from '../layout.js';
import { choice, field, type Markup, tick, when } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';
import { questionMarkup } from './question.js';

/** Where a form leads back to: the bench, or the unit's page. */
export type JobPlace = 'bench' | 'unit';

/** What a job says of itself: what was promised, wanted, waited for and done, and what comes next. */
export function jobLines(viewer: Viewer, shown: ShownJob): Markup {
  const { words, today } = viewer;
  const { job: says } = viewer.texts.bench;
  const { job } = shown.stay;
  const day = job.promisedFor === null ? null : words.weekday(job.promisedFor, today);
  const isLate = job.promisedFor !== null && job.promisedFor < today;
  const { did, next } = shown;
  const isDone = job.step === 'done' || job.step === 'informed';
  const lines = [
    comebackText(viewer, (on) => words.day(on, today), job),
    job.wish,
    job.price === null ? null : `${says.price}: ${job.price}`,
    job.missing === null ? null : says.waitsFor(job.missing),
    did.length === 0 ? null : says.did(words.list(did.map((kind) => words.serviceKind(kind)))),
    isDone && next !== null
      ? says.next(words.serviceKind(next.serviceKind), words.day(next.day, today))
      : null,
    job.informedBy === null ? null : says.informed[job.informedBy],
  ];
  return html`${when(shown.stopWhy !== null, () => html`<p>${stopBox(viewer, shown.stopWhy)}</p>`)}<p>${when(day !== null, () => html`<strong>${isLate ? says.late(day!) : says.promised(day!)}</strong> · `)}${says.sinceDay(words.day(job.arrivedOn, today))} · ${comesFor(viewer, shown)}</p>
${lines.filter((line) => line !== null).map((line) => html`<p>${line}</p>`)}`;
}

const comesFor = (viewer: Viewer, { minutes, ...job }: ShownJob): string =>
  job.isServed
    ? viewer.texts.bench.served
    : minutes === 0
      ? jobFor(viewer, job)
      : `${jobFor(viewer, job)}, ${minutesText(minutes, viewer)}`;

/** The buttons that take a job a step further, the likeliest first; every other step lies in a drawer. */
export function jobForms(viewer: Viewer, shown: ShownJob, at: JobPlace, fields: Fields = {}): Markup {
  const { bench } = viewer.texts;
  const { tag } = shown.one.unit;
  const path = pathOfUnit(tag);
  const { step } = shown.stay.job;
  // Of a unit of unknown history the first thing is to look.
  const isInspected = shown.isUnknown && viewer.fleet === null;
  const usual = NEXT_STEPS[step];
  const rest = JOB_STEPS.filter((to) => to !== step && !usual.includes(to));
  const button = (to: JobStep): Markup =>
    stepForm(viewer, shown, at, to, html`<button>${bench.to[to]}</button>`);
  const log = when(
    step !== 'done' && step !== 'informed',
    () => html`<a class="button" href="${path}/service?from=${at}">${bench.logService}</a>`,
  );
  // What comes next stands first.
  const steps = usual.map(button);
  return html`
<div class="answers steps">
${when(isInspected, () => html`<a class="button" href="${path}/inspect">${bench.inspect}</a>`)}
${when(step === 'done' && shown.rider?.isMailed === true, () => mailForm(viewer, shown, at))}
${step === 'arrived' ? [...steps, log] : [log, ...steps]}
<a class="button" href="${path}/set-up" aria-label="${viewer.texts.setUp.link}: ${tag}">${viewer.texts.setUp.link}</a>
<a class="button" href="${path}/card" aria-label="${bench.card}: ${tag}">${bench.card}</a>
</div>
${questionMarkup(viewer, shown, at)}
${photoForm(viewer, tag, shown.photos, at)}
<details${fields.promisedFor === undefined ? '' : html` open`}><summary>${bench.job.say}</summary>
<form method="post" action="${path}/job">${formToken(viewer)}${seenField(shown, at)}
${saidFields(viewer, shown.stay.job, fields, tag)}${comebackFields(viewer, { job: shown.stay.job, before: shown.before, tag }, fields)}<p><button>${bench.job.save}</button></p></form></details>
<details><summary>${bench.steps}</summary><div class="answers">${rest.map((to) => button(to))}</div></details>`;
}

/** What sends a mail says to whom before it does. */
const mailForm = (viewer: Viewer, shown: ShownJob, at: JobPlace): Markup =>
  stepForm(
    viewer,
    shown,
    at,
    'informed',
    html`<input type="hidden" name="byMail" value="yes">${actButton({
      id: `ready-${shown.one.unit.tag}`,
      label: viewer.texts.bench.mailTo(shown.rider!.name),
      tells: viewer.texts.bench.mailTells(shown.rider!.name),
      look: 'mails',
    })}`,
  );

const seenField = ({ stay }: ShownJob, at: JobPlace): Markup =>
  html`<input type="hidden" name="fact" value="${stay.factId ?? ''}"><input type="hidden" name="from" value="${at}">`;

function stepForm(viewer: Viewer, shown: ShownJob, at: JobPlace, to: JobStep, button: Markup): Markup {
  const { tag } = shown.one.unit;
  const back = to === 'collected' ? shown.backTo : null;
  return html`<form method="post" action="${pathOfUnit(tag)}/step">${formToken(viewer)}${seenField(shown, at)}<input type="hidden" name="to" value="${to}">
${when(back !== null, () => tick('fitBack', viewer.texts.bench.job.fitBack(back!), true))}
${button}</form>`;
}

const DAYS_TO_PROMISE = 15;

/** What is asked when a unit arrives, and may be changed later. */
export function saidFields(
  viewer: Viewer,
  job: Pick<JobFact, 'wish' | 'promisedFor' | 'price' | 'missing'> | null,
  fields: Fields,
  of: string,
): Markup {
  const { job: says } = viewer.texts.bench;
  const { words, today, workshop } = viewer;
  const open = nextOpenDays(today, DAYS_TO_PROMISE, workshop?.openDays ?? [], workshop?.closedDays ?? []);
  const chosen = job?.promisedFor ?? null;
  const days = chosen === null || open.includes(chosen) ? open : [chosen, ...open];
  const text = (name: 'wish' | 'price' | 'missing'): Markup =>
    field({ name, id: `${name}-${of}`, label: says[name], value: fields[name] ?? job?.[name] ?? '' });
  return html`
${text('wish')}
${choice({
  name: 'promisedFor',
  id: `promisedFor-${of}`,
  label: says.promisedFor,
  value: fields.promisedFor ?? chosen ?? '',
  choices: [
    { value: '', label: says.noDay },
    ...days.map((day) => ({ value: day, label: words.weekday(day, today) })),
  ],
})}
${text('price')}
${text('missing')}`;
}

/** Says that a unit arrived, with what its rider wants. */
export const arriveForm = (viewer: Viewer, tag: string, at: JobPlace, fields: Fields): Markup => html`
<form method="post" action="${pathOfUnit(tag)}/arrive">${formToken(viewer)}<input type="hidden" name="from" value="${at}">
${saidFields(viewer, null, fields, tag)}<p><button>${viewer.texts.bench.job.arrive}</button></p></form>`;
