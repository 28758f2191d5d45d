import { html } from 'hono/html';
import { parseDay } from '../../../core/days/dayNumber.js';
import type { Fact, Findings } from '../../../core/ledger/facts.js';
import type { SeenLook } from '../../../core/notices/matters.js';
import { homeQuestions, stopLooks } from '../../../core/plan/atHome.js';
import { type HomePage, logHome } from '../../../flow/home/atHome.js';
import { riderTextsFor } from '../../../languages/index.js';
import { seenText } from '../../../languages/seenText.js';
import type { Tx } from '../../../ports/store.js';
import { PHOTO_TYPES } from '../../cells/photoCells.js';
import { lookText } from '../../looks/looks.js';
import { field, type Markup, tick, when } from '../../markup.js';
import type { Fields } from '../../taken.js';
import { done, fault, type PageSaid, type RiderView } from '../riderPage.js';

const keyOf = ([name, word]: SeenLook): string => `${name} ${word}`;

/** Four taps and a photograph: what was seen at home. The script sends it once a photograph is chosen. */
export function homeForm(view: RiderView, { unit }: HomePage, megabytes: number): Markup {
  const { texts, voice, sent, today, path } = view;
  const { home } = texts;
  const isSent = sent.say === 'log';
  return html`<section class="entry screen" id="log"><h2>${home.done}</h2><p>${home.doneLead}</p>
<form method="post" action="${path}" enctype="multipart/form-data" data-send-on-photo><input type="hidden" name="say" value="log">
${homeQuestions(unit).map(
  ({ name, looks }) =>
    html`<fieldset><legend>${home.questions[name]}</legend><div class="taps">${looks.map(
      (word) =>
        html`<label class="tap"><input type="radio" name="${name}" value="${word}" required${when(isSent && sent[name] === word, () => html` checked`)}>${lookText(voice, name, word)}</label>`,
    )}</div></fieldset>`,
)}
<details${isSent && stopLooks(unit).some((seen) => sent[keyOf(seen)] === 'yes') ? html` open` : ''}><summary>${home.more}</summary>
${stopLooks(unit).map((seen) => tick(keyOf(seen), seenText(voice.words.language, seen), sent[keyOf(seen)] === 'yes'))}</details>
${field({ name: 'on', label: home.day, type: 'date', value: sent.on ?? today, isRequired: true })}
<div class="answers"><label class="button primary">${home.photo}<input class="hidden" type="file" name="photo" accept="${PHOTO_TYPES}"></label>
<button>${home.log}</button></div>
<p class="hint">${home.photoHint(megabytes)}</p></form></section>`;
}

/** Logs what was sent. What forbids riding, or is to be checked soon, is said to whoever sent it, and to the workshop. */
export async function takeHomeForm(
  tx: Tx,
  view: RiderView,
  page: HomePage,
  chosen: Fact<'atHome'>,
  fields: Fields,
): Promise<PageSaid> {
  const { texts, voice, today } = view;
  const on = parseDay(fields.on ?? '');
  if (on === null || on > today) return fault(texts.done.need);
  const findings = findingsIn(page, fields);
  if (findings === null) return fault(texts.home.need);
  const { language } = view.workshop;
  const matters = await logHome(
    tx,
    page,
    chosen,
    {
      ...{ on, findings, photos: view.photos },
      shows: page.unit.unitKind === 'fork' ? 'rings' : 'stanchions',
      // As what the workshop types itself, it is in the workshop's language.
      stopWhy: (seen) =>
        riderTextsFor(language).home.stopWhy(seen.map((one) => seenText(language, one)).join('; ')),
    },
    view.entry,
  );
  const job = voice.words.serviceKind(page.standing.serviceKind);
  const day = voice.words.day(on, today);
  if (matters === null) return fault(texts.done.twice(job, day));
  const said = (seen: readonly SeenLook[]): string =>
    seen.map((one) => seenText(voice.words.language, one)).join('; ');
  const { stop, soon } = matters;
  const more = [
    ...(stop.length > 0
      ? [texts.home.stopped(said(stop)), texts.call(view.workshop.phone, view.workshop.email)]
      : []),
    ...(soon.length > 0 ? [texts.home.bad(said(soon))] : []),
  ];
  return done([texts.home.logged(job, day), ...more].join(' '));
}

/** Returns what was seen; null where one of the four is not answered. Of two words for one look what forbids riding stays. */
function findingsIn({ unit }: HomePage, fields: Fields): Findings | null {
  const answers = homeQuestions(unit).map(({ name, looks }) => [
    name,
    looks.find((one) => one === fields[name]),
  ]);
  if (answers.some(([, word]) => word === undefined)) return null;
  const harm = stopLooks(unit).filter((seen) => fields[keyOf(seen)] === 'yes');
  return Object.fromEntries([...answers, ...harm]) as Findings;
}
