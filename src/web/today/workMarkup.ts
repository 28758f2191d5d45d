import { html } from 'hono/html';
import type { TodayWork } from '../../flow/due/todayWork.js';
import type { ShownLead } from '../../flow/plan/listLeads.js';
import { jobLines } from '../bench/jobMarkup.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { formToken } from '../layout.js';
import { type Markup, when } from '../markup.js';
import type { Viewer } from '../viewer.js';

/** What the day brings: who comes, whose day passed without a word, and what is promised. */
export function workMarkup(viewer: Viewer, work: TodayWork): Markup {
  const { comes, cameUnsaid, promised, there } = work;
  const { today: says } = viewer.texts;
  return html`
${pressing(viewer, work)}
${when(cameUnsaid.length > 0, () => html`<h2>${says.cameAsked}</h2><p class="lead">${says.cameLead}</p>${cameUnsaid.map((lead) => asked(viewer, lead))}`)}
<h2>${says.comesTitle}</h2>
${comes.length === 0 ? html`<p>${says.nobodyComes}</p>` : comes.map((lead) => entry(viewer, lead, arrived(viewer, lead)))}
<h2>${says.promisedTitle}</h2>
${promised.length === 0 ? html`<p>${says.notPromised}</p>` : promised.map((job) => html`<article class="entry"><h3><a href="${pathOfUnit(job.one.unit.tag)}">${job.one.unit.tag}</a>, ${viewer.words.jobStep[job.stay.job.step]}</h3>${jobLines(viewer, job)}</article>`)}
<p><a href="/bench">${says.atWorkshop(viewer.words.counted(there, 'unit'))}</a></p>`;
}

/** What somebody waits for who is not at the counter: an answer, a call, a bike. */
function pressing(viewer: Viewer, { askedJobs, complaints, lateHires, lateLoans }: TodayWork): Markup {
  const { texts, words, today } = viewer;
  const { today: says } = texts;
  const unit = (tag: string): Markup => html`<a href="${pathOfUnit(tag)}">${tag}</a>`;
  const lines = [
    ...complaints.map(
      ({ tag, heard, rider, phone }) =>
        html`${unit(tag)}: ${says.wrong(heard.what ?? '', [rider ?? texts.due.noRider, phone ?? texts.leads.noPhone].join(', '))} <a class="screen" href="/comebacks">${says.toComebacks}</a>`,
    ),
    ...askedJobs.map(
      ({ one, question, rider }) =>
        html`${unit(one.unit.tag)}: ${says.waitsForYes(words.serviceKind(question!.body.to), rider?.name ?? texts.due.noRider)} <a class="screen" href="/bench">${says.toBench}</a>`,
    ),
    ...lateHires.map(
      ({ bike, fleet, until }) =>
        html`${says.lateHire(bike, words.day(until, today))} ${fleet === null ? '' : html`<a class="screen" href="/fleets/${encodeURIComponent(fleet)}/hire">${says.toHire}</a>`}`,
    ),
    ...lateLoans.map(
      ({ tag, bike, until }) => html`${unit(tag)}: ${says.lateLoan(bike, words.day(until, today))}`,
    ),
  ];
  return when(
    lines.length > 0,
    () => html`<h2>${says.pressingTitle}</h2><ul>${lines.map((line) => html`<li>${line}</li>`)}</ul>`,
  );
}

const entry = (viewer: Viewer, lead: ShownLead, forms: Markup): Markup => {
  const { texts, words } = viewer;
  const who = [lead.bike ?? texts.due.noBike, lead.riderName ?? texts.leads.noRider, lead.phone];
  const what = `${words.serviceKind(lead.serviceKind)} · ${who.filter((part) => part).join(' · ')}`;
  return html`<article class="entry comes"><p><a href="${pathOfUnit(lead.unit)}">${lead.unit}</a>, ${what}</p><div class="answers">${forms}</div></article>`;
};

const arrived = (viewer: Viewer, { unit }: ShownLead): Markup => {
  const { bench } = viewer.texts;
  return html`<form method="post" action="${pathOfUnit(unit)}/arrive">${formToken(viewer)}<input type="hidden" name="from" value="today"><button aria-label="${bench.cameOf(unit)}">${bench.came}</button></form>`;
};

/** Did it come? It arrived, its service is logged, another day is given, or it did not come. */
const asked = (viewer: Viewer, lead: ShownLead): Markup => {
  const { texts, words, today } = viewer;
  const { today: says } = texts;
  const path = pathOfUnit(lead.unit);
  return entry(
    viewer,
    lead,
    html`${says.bookedFor(words.weekday(lead.day!, today))} ${arrived(viewer, lead)}
<a class="button" href="${path}/service?from=today">${says.cameLogged}</a>
<a class="button" href="/leads#${lead.id}">${says.otherDay}</a>
<form method="post" action="/leads/${encodeURIComponent(lead.id)}/reopen">${formToken(viewer)}<button>${says.didNotCome}</button></form>`,
  );
};
