import { html } from 'hono/html';
import { type ComebackJob, type ComebacksPage, getComebacks } from '../../flow/plan/comebacks.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { unbroken } from '../show.js';
import type { Viewer } from '../viewer.js';
import { causeText } from './comebackMarkup.js';

/** What came back after a service here, by model and cause, and which claims wait. */
export function comebacksPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/comebacks', async (c) => {
    const viewer = c.get('viewer');
    return c.html(markup(viewer, await store.read((tx) => getComebacks(tx, viewer.now))));
  });
}

function markup(viewer: Viewer, { complaints, week, year, claims }: ComebacksPage): Markup {
  const { comebacks: says } = viewer.texts;
  const isEmpty = [complaints, week, year, claims].every((rows) => rows.length === 0);
  return page(viewer, {
    title: says.title,
    current: 'comebacks',
    body: html`
<h1>${says.title}</h1>
<p class="lead">${says.lead}</p>
<h2>${says.saidTitle}</h2>
${complaints.length === 0 ? html`<p>${says.saidNone}</p>` : complaintTable(viewer, complaints)}
<h2>${says.weekTitle}</h2>
${week.length === 0 ? html`<p>${says.weekNone}</p>` : weekTable(viewer, week)}
<h2>${says.yearTitle}</h2>
${year.length === 0 ? html`<p>${says.none}</p>` : yearTable(viewer, year)}
<h2>${says.claimsTitle}</h2>
${claims.length === 0 ? html`<p>${says.claimsNone}</p>` : claimTable(viewer, claims)}
${when(isEmpty, () => nextStep(says.how, '/bench', viewer.texts.today.toBench))}`,
  });
}

const unitLink = (tag: string): Markup => html`<a href="${pathOfUnit(tag)}">${tag}</a>`;

function complaintTable(viewer: Viewer, complaints: ComebacksPage['complaints']): Markup {
  const { columns } = viewer.texts.comebacks;
  const { words, today, texts } = viewer;
  return table(
    [columns.unit, columns.day, columns.what, texts.unit.rider].map((label) => ({ label })),
    complaints.map(({ tag, heard, said, rider, phone }) => ({
      head: unitLink(tag),
      cells: [
        html`${words.day(said, today)}`,
        html`${heard.what ?? ''}${small(texts.comebacks.job.service(words.serviceKind(heard.serviceKind), words.day(heard.on, today)))}`,
        html`${rider ?? texts.due.noRider}${phone === null ? '' : html`<br><a href="tel:${phone.replaceAll(' ', '')}">${unbroken(phone)}</a>`}`,
      ],
    })),
  );
}

function weekTable(viewer: Viewer, week: readonly ComebackJob[]): Markup {
  const { comebacks: says } = viewer.texts;
  const { columns } = says;
  const { words, today } = viewer;
  return table(
    [columns.unit, columns.day, columns.service, columns.cause].map((label) => ({ label })),
    week.map(({ tag, model, job: { arrivedOn, comeback } }) => ({
      head: html`${unitLink(tag)}${small(model)}`,
      cells: [
        html`${words.day(arrivedOn, today)}`,
        html`${says.job.service(words.serviceKind(comeback.serviceKind), words.day(comeback.on, today))}`,
        html`${causeText(viewer, comeback.cause)}`,
      ],
    })),
  );
}

function yearTable(viewer: Viewer, year: ComebacksPage['year']): Markup {
  const { comebacks: says } = viewer.texts;
  const { columns } = says;
  const { words } = viewer;
  return table(
    [
      { label: columns.model },
      { label: columns.service },
      { label: columns.cause },
      { label: columns.count, isFigure: true },
      { label: columns.share, isFigure: true },
    ],
    year.map(({ model, serviceKind, cause, count, services }) => ({
      head: html`<b>${model ?? says.noModel}</b>`,
      cells: [
        html`${words.serviceKind(serviceKind)}`,
        html`${causeText(viewer, cause)}`,
        html`${words.number(count)}`,
        html`${says.of(words.number(count), words.number(services))}`,
      ],
    })),
  );
}

function claimTable(viewer: Viewer, claims: ComebacksPage['claims']): Markup {
  const { columns, claim: says } = viewer.texts.comebacks;
  return table(
    [columns.unit, columns.day, columns.what, columns.sentTo, columns.step].map((label) => ({ label })),
    claims.map(({ tag, claim: { openedOn, what, sentTo, step } }) => ({
      head: unitLink(tag),
      cells: [
        html`${viewer.words.day(openedOn, viewer.today)}`,
        html`${what}`,
        html`${sentTo ?? ''}`,
        html`${says.steps[step]}`,
      ],
    })),
  );
}
