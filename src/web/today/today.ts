import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import { STATES } from '../../core/tokens.js';
import { agreeToClock, type DoubtedClock, doubtText } from '../../flow/clockDoubt.js';
import { type DueToday, getTodayPage, type Today, type TodayPage } from '../../flow/due/today.js';
import { fileWhy } from '../../languages/fileText.js';
import { fileTextsFor } from '../../languages/index.js';
import { type Instant, minutesIn } from '../../units.js';
import { callsTable } from '../cells/callsTable.js';
import { likelyCell, small, stateCell, unitCell, whoCell } from '../cells/dueCells.js';
import { badAnswers } from '../cells/homeCells.js';
import { nextStep } from '../cells/nextStep.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { type Health, healthOf } from '../health.js';
import { formToken, page } from '../layout.js';
import { dense, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { timeText } from '../show.js';
import type { Viewer } from '../viewer.js';
import { rereadMarkup } from './rereadMarkup.js';
import { workMarkup } from './workMarkup.js';

/** The first page: a mechanic's is the fleet. */
export function todayPage(pages: Pages, deps: WebDeps): void {
  pages.post('/clock', async (c) => {
    await change(deps, c, (tx, { at }) => agreeToClock(tx, at));
    return c.redirect('/', 303);
  });
  pages.get('/', async (c) => {
    const viewer = c.get('viewer');
    const { fleet, account, now } = viewer;
    if (fleet !== null) return c.redirect(`/fleets/${encodeURIComponent(fleet.handle)}`, 303);
    if (account.role === 'mechanic') return c.redirect('/account', 303);
    const health = await healthOf(deps);
    const view = await deps.store.read((tx) => getTodayPage(tx, now, health.loops));
    return c.html(markup(viewer, view, health, deps.vitals !== undefined));
  });
}

function markup(
  viewer: Viewer,
  { today: of, work, due }: TodayPage,
  health: Health,
  hasLoops: boolean,
): Markup {
  const { texts, words, today } = viewer;
  const says = texts.today;
  const title = says.title(words.weekday(today, today));
  return page(viewer, {
    title,
    current: 'today',
    body: html`
<h1>${title}</h1>
${badAnswers(viewer, of.bad)}
${when(of.stopCalls.length > 0, () => html`<h2>${texts.mails.reminders.calls(of.stopCalls.length)}</h2>${callsTable(viewer, of.stopCalls)}`)}
${when(!of.hasBegun, () => html`<p class="said" role="status">${texts.mails.reminders.notBegun} ${link('/reminders', texts.mails.reminders.toReminders)}</p>`)}
${when(of.notSent > 0, () => html`<p>${texts.mails.notSentNote} ${link('/mails?state=not-sent', says.toNotSent)}</p>`)}
${when(isTroubled(health), () => part(says.machineTitle, machine(viewer, health, hasLoops)))}
${workMarkup(viewer, work)}
${when(of.kits > 0, () => html`<p>${texts.kits.today(of.kits)} ${link('/kits', texts.nav.kits)}</p>`)}
<h2>${says.dueTitle}</h2>
${dueMarkup(viewer, due)}
<div class="beside">
${part(says.leadsTitle, leads(viewer, of))}
${part(says.trayTitle, html`<p>${of.waiting === 0 ? says.trayEmpty : html`<strong>${says.tray(of.waiting)}</strong>`} ${link('/tray', says.toTray)}</p>`)}
${part(says.refusedTitle, html`<p>${of.refused === 0 ? says.noRefused : html`<strong>${says.refused(of.refused)}</strong> ${link('/mails?state=refused', says.toRefused)}`}</p>`)}
<section class="screen"><h2>${texts.mails.reminders.callsTitle}</h2><p>${link('/reminders', texts.mails.reminders.toReminders)}</p></section>
${when(!isTroubled(health), () => part(says.machineTitle, machine(viewer, health, hasLoops)))}
</div>
${rereadMarkup(viewer, of)}
<h2>${says.cameTitle}</h2>
${filesLeft(viewer, of)}
${when(of.mailsLeft > 0, () => html`<p><strong>${says.left.mails(of.mailsLeft)}</strong> ${link('/ways', texts.ways.title)}</p>`)}
${atWork(viewer, health)}
${came(viewer, of)}`,
  });
}

const part = (title: string, body: Markup): Markup => html`<section><h2>${title}</h2>${body}</section>`;
const link = (path: string, text: string): Markup => html`<a class="screen" href="${path}">${text}</a>`;

function leads({ texts, words, today }: Viewer, { asked, askedFirst, booked }: Today): Markup {
  const { today: says } = texts;
  if (asked === 0 && booked === 0) return html`<p>${says.noLeads} ${link('/leads', says.toLeads)}</p>`;
  return html`
${when(
  asked > 0,
  () =>
    html`<p><strong>${says.asked(asked)}</strong></p><ul>${askedFirst.map(
      ({ unit, day }) =>
        html`<li>${day === null ? unit : says.askedDay(unit, words.weekday(day, today))}</li>`,
    )}</ul>`,
)}
<p>${when(booked > 0, () => html`${says.booked(booked)} `)}${link('/leads', says.toLeads)}</p>`;
}

/** What is wrong stands above the day's work. */
const isTroubled = ({ why, doubt }: Health): boolean => why.length > 0 || doubt !== null;

function machine(viewer: Viewer, { loops, why, doubt }: Health, hasLoops: boolean): Markup {
  const { today: says } = viewer.texts;
  const forOthers = why.filter((one) => doubt === null || one !== doubtText(doubt));
  const clock = when(doubt !== null, () => clockMarkup(viewer, doubt!));
  if (forOthers.length > 0)
    return html`${clock}<p><strong>${says.trouble}</strong></p><ul lang="en">${forOthers.map((one) => html`<li>${one}</li>`)}</ul>`;
  if (doubt !== null) return clock;
  if (!hasLoops || loops.length === 0) return html`<p>${says.elsewhere}</p>`;
  const ended = loops.map(({ sinceEndedS }) => sinceEndedS).filter((since) => since !== null);
  if (ended.length === 0) return html`<p>${says.running}</p>`;
  const seconds = Math.round(Math.min(...ended));
  return html`<p>${says.well(seconds < 120 ? says.seconds(seconds) : says.minutes(Math.round(minutesIn(seconds))))}</p>`;
}

function clockMarkup(viewer: Viewer, { how, now, lastAt }: DoubtedClock): Markup {
  const { today: says } = viewer.texts;
  const text = (at: Instant): string => {
    const [said, year] = [timeText(at, viewer), dayOf(at, viewer.zone).slice(0, 4)];
    return said.includes(year) ? said : `${said} (${year})`;
  };
  return html`<p><strong>${says.clock[how]}</strong> ${says.clockSays(text(now), text(lastAt))}</p>
<form method="post" action="/clock">${formToken(viewer)}
<p>${says.clockHint} <button>${says.clockIsRight}</button></p></form>`;
}

function dueMarkup(viewer: Viewer, { counts, stopped, units }: DueToday): Markup {
  const { texts, words } = viewer;
  const { tally } = texts.due;
  const all = html`<p>${link('/due', texts.today.allDue)}</p>`;
  if (counts.size === 0) return nextStep(texts.due.nothing, '/customers/new', texts.customer.title);
  const byState = html`<ul class="tally" aria-label="${tally}">${STATES.filter((state) =>
    counts.has(state),
  ).map(
    (state) =>
      html`<li>${link(`/due?state=${state}`, `${words.number(counts.get(state)!)} ${words.state[state]}`)}</li>`,
  )}</ul>`;
  if (units.length + stopped.length === 0) return html`${byState}<p>${texts.today.dueNothing}</p>${all}`;
  const left = (counts.get('stop-riding') ?? 0) - stopped.length;
  return html`${byState}
${unitTable(viewer, [...stopped, ...units])}
${when(left > 0, () => html`<p>${link('/due?state=stop-riding', texts.today.moreStopped(left))}</p>`)}${all}`;
}

/** A row a unit: its next job, why, and whose it is. */
function unitTable(viewer: Viewer, units: DueToday['units']): Markup {
  const { texts, words } = viewer;
  const { columns } = texts.due;
  return dense(
    [columns.unit, columns.service, columns.state, columns.likely, columns.who].map((label) => ({ label })),
    units.map(({ first }) => ({
      head: unitCell(viewer, first),
      cells: [
        html`${words.serviceKind(first.serviceKind)}`,
        html`${stateCell(viewer, first)}${small(first.state === 'stop-riding' ? null : texts.due.first[first.limit])}`,
        likelyCell(viewer, first),
        whoCell(viewer, first),
      ],
    })),
  );
}

function filesLeft({ texts, words }: Viewer, { left }: Today): Markup {
  const { left: says } = texts.today;
  return html`${when(left.folder > 0, () => html`<p>${says.folder(words.number(left.folder))}</p>`)}${when(left.take > 0, () => html`<p>${says.take(words.number(left.take))}</p>`)}`;
}

function atWork({ texts, words }: Viewer, { machine: of }: Health): Markup {
  const all = of?.atWork ?? [];
  return html`${all.map(({ command, left }) => html`<p>${texts.today.left.command(command, words.number(left))}</p>`)}`;
}

function came(viewer: Viewer, { came: counts, cameSince, latest }: Today): Markup {
  const { texts, words, today } = viewer;
  const says = texts.today;
  const outcomes = Object.keys(says.outcome) as (keyof typeof counts)[];
  const all = outcomes.reduce((sum, outcome) => sum + (counts[outcome] ?? 0), 0);
  const parts = outcomes
    .filter((outcome) => counts[outcome] !== undefined)
    .map((outcome) => `${words.number(counts[outcome]!)} ${says.outcome[outcome]}`);
  const total = says.came(says.files(all), words.weekday(cameSince, today));
  if (all === 0) return html`<p>${total}</p>`;
  return html`<p>${total} ${words.list(parts)}.</p>
<div class="sheet">${table(
    [says.columns.file, says.columns.when, says.columns.who, says.columns.became].map((label) => ({ label })),
    latest.map((one) => ({
      head: html`<span class="long">${one.name}</span>`,
      cells: [
        html`${timeText(one.at, viewer)}`,
        html`${one.ownerName ?? says.nobody}`,
        html`${says.outcome[one.outcome]}${small(one.outcome === 'ride' ? null : fileWhy(fileTextsFor(words.language), { ...one, outcome: one.outcome }))}`,
      ],
    })),
  )}</div>`;
}
