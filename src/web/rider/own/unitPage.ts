import { html } from 'hono/html';
import { findOwnUnit, type OwnUnit } from '../../../flow/due/ownPage.js';
import { answerJob, findQuestion, type JobQuestion } from '../../../flow/facts/jobQuestions.js';
import { findAskedService } from '../../../flow/own/afterService.js';
import { listPhotos, type ShownPhoto } from '../../../flow/photos/photos.js';
import { listSetUps } from '../../../flow/plan/setUps.js';
import { pathOfPhotoBelow, photoStrip } from '../../cells/photoCells.js';
import { setUpRows } from '../../cells/setUpCells.js';
import { periodSourcesMarkup } from '../../cells/sourcesMarkup.js';
import { cautions } from '../../layout.js';
import { columnsOf, type Markup, NOTHING, table, when } from '../../markup.js';
import { curvesMarkup } from '../../plots/curvesMarkup.js';
import { done, fault, notYours, type RiderPage, type RiderView } from '../riderPage.js';
import { afterServiceForm, takeAfterService } from './afterService.js';
import { knownLine, likelyOf, movingOf, pathToUnit, stateText, terrainOf, unitName } from './cells.js';

const ACTS = ['ask', 'done', 'later', 'gone'] as const;

/** Where one unit stands in each of its services, what a rider can do about it, and what was done before. */
export const unitPage: RiderPage = {
  title: (texts) => texts.own.bikes.more,
  show: async (tx, view) => {
    const { opened, now } = view;
    const found = await findOwnUnit(tx, opened.contact.riderId, opened.link.unitId, now);
    if (!found) return notYours(view);
    const { bike, of, curves, running } = found;
    const asked = await findQuestion(tx, of.unitId);
    const photos = (await listPhotos(tx, of.unitId)).filter(
      ({ serviceId, riderId, showsPerson }) =>
        serviceId === null && riderId === opened.contact.riderId && !showsPerson,
    );
    const { left: setUp } = await listSetUps(tx, of.unitId);
    const { unit: texts } = view.texts.own;
    return html`
<p class="lead">${view.texts.about(bike.name, unitName(view, of.unit))}</p>
${questionOf(view, of.unit.tag, asked, photos)}
${afterServiceForm(view, await findAskedService(tx, of.unitId, now))}
<h2>${texts.stands}</h2>
${standingTable(view, of)}
${knownLine(view, of.standings)}
${curvesMarkup(curves, { ...view.voice, today: view.today, zone: view.workshop.timeZone, now })}
<details><summary>${view.voice.texts.sources.title}</summary>${periodSourcesMarkup(view.voice, running)}</details>
${when(setUp !== null, () => html`<h2>${view.voice.texts.setUp.left}, ${view.voice.words.day(setUp!.body.on, view.today)}</h2>${setUpRows(view.voice, setUp!.body)}`)}
<h2>${texts.services}</h2>
${services(view, of.unit.tag, found.services)}
<p class="soft">${view.voice.texts.severityNote}</p>
${cautions(view.voice)}`;
  },
  take: async (tx, view, fields) => {
    const { question: says } = view.voice.texts.bench;
    const { opened, now, entry } = view;
    const found = await findOwnUnit(tx, opened.contact.riderId, opened.link.unitId, now);
    if (!found) return fault(view.texts.notYours.says);
    const { unitId } = found.of;
    // What else is asked of it has a form of its own.
    if (fields.question === undefined) return takeAfterService(tx, view, unitId, fields);
    const asked = await findQuestion(tx, unitId);
    const answer = fields.answer === 'yes' ? 'yes' : 'not-now';
    if (asked?.body.answer !== 'asked' || asked.id !== fields.question) return fault(says.gone);
    await answerJob(tx, unitId, asked.id, { answer, by: 'rider' }, entry);
    return done(answer === 'yes' ? says.riderSaidYes : says.riderNotNow);
  },
};

/** The job that changed on the bench, with its two answers. */
function questionOf(
  view: RiderView,
  tag: string,
  asked: JobQuestion | null,
  photos: readonly ShownPhoto[],
): Markup {
  if (asked?.body.answer !== 'asked') return NOTHING;
  const { words, texts } = view.voice;
  const { question: says, job } = texts.bench;
  const path = pathToUnit(view.home ?? '', tag);
  const { from, to, why, price, day } = asked.body;
  const rows: (readonly [string, string])[] = [
    ...(from === null ? [] : [[texts.bench.question.came, words.serviceKind(from)] as const]),
    [says.to, words.serviceKind(to)],
    [says.why, why],
    ...(price === null ? [] : [[job.price, price] as const]),
    ...(day === null ? [] : [[says.readyBy, words.weekday(day, view.today)] as const]),
  ];
  return html`<section class="entry"><h2>${says.riderTitle}</h2>
<dl class="facts">${rows.map(([label, value]) => html`<dt>${label}</dt><dd>${value}</dd>`)}</dl>
${photoStrip({ ...view.voice, today: view.today }, photos, ({ id }) => pathOfPhotoBelow(path, id))}
<form method="post" class="answers"><input type="hidden" name="question" value="${asked.id}">
<button class="primary" name="answer" value="yes">${says.riderYes}</button><button name="answer" value="not-now">${says.notNow}</button></form></section>`;
}

function standingTable(view: RiderView, { unit: { tag }, standings, atHome }: OwnUnit['of']): Markup {
  const { columns, later, gone } = view.texts.own.unit;
  const { ask, done } = view.texts.own.bikes;
  const labels = { ask, done, later, gone };
  const { home } = view.texts;
  const { words } = view.voice;
  return table(
    columnsOf(Object.values(columns), [columns.terrain, columns.moving], [columns.say]),
    standings.map((standing) => {
      const job = words.serviceKind(standing.serviceKind);
      return {
        head: html`<b>${job}</b>`,
        cells: [
          stateText(view, standing),
          html`${likelyOf(view, standing)}`,
          html`${terrainOf(view, standing)}`,
          html`${movingOf(view, standing)}`,
          html`<ul class="acts">${ACTS.map(
            (act) =>
              html`<li><a href="${pathToUnit(view.home ?? '', tag, standing.serviceKind, act)}">${labels[act]}<span class="hidden">${view.texts.own.bikes.moreOf(job)}</span></a></li>`,
          )}${when(atHome.has(standing.serviceKind), () => html`<li><a href="${pathToUnit(view.home ?? '', tag, standing.serviceKind, 'home')}">${home.at[atHome.get(standing.serviceKind)!]}<span class="hidden">${view.texts.own.bikes.moreOf(job)}</span></a></li>`)}</ul>`,
        ],
      };
    }),
  );
}

function services(view: RiderView, tag: string, done: OwnUnit['services']): Markup {
  const { texts, today, home } = view;
  const { words } = view.voice;
  const { unit } = texts.own;
  if (done.length === 0) return html`<p>${unit.none}</p>`;
  return table(
    [unit.done.day, unit.done.service, unit.done.where].map((label) => ({ label })),
    done.map(({ body, entityId }) => ({
      head: html`<b>${words.day(body.on, today)}</b>`,
      cells: [
        body.by === 'here'
          ? html`<a href="${pathToUnit(home ?? '', tag, 'found', entityId)}">${words.serviceKind(body.serviceKind)}</a>`
          : html`${words.serviceKind(body.serviceKind)}`,
        html`${body.by === 'here' ? unit.here : words.doneBy[body.by]}`,
      ],
    })),
  );
}
