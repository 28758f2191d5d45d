import { html } from 'hono/html';
import type { KitWord } from '../../core/tokens.js';
import type { BadAnswer, HomeRow } from '../../flow/home/kits.js';
import { seenText } from '../../languages/seenText.js';
import { formToken } from '../layout.js';
import { columnsOf, type Markup, NOTHING, table } from '../markup.js';
import type { Viewer } from '../viewer.js';
import { pathOfUnit, small } from './dueCells.js';

/** A press that says something of a job at home. */
export const homeWord = (
  viewer: Viewer,
  { tag, factId }: Pick<HomeRow, 'tag' | 'factId'>,
  word: KitWord,
): Markup => {
  const { words, wordOf } = viewer.texts.kits;
  return html`<form method="post" action="/kits/${encodeURIComponent(tag)}">${formToken(viewer)}<input type="hidden" name="home" value="${factId}"><button name="say" value="${word}" aria-label="${wordOf(words[word], tag)}">${words[word]}</button></form>`;
};

/** Riders who did a job at home and saw what somebody has to look at: whom to call first. */
export function badAnswers(viewer: Viewer, bad: readonly BadAnswer[]): Markup {
  if (bad.length === 0) return NOTHING;
  const { texts, words, today } = viewer;
  const { kits, leads, mails } = texts;
  return html`<h2>${kits.bad(bad.length)}</h2>${table(
    columnsOf([mails.columns.to, kits.seen, kits.columns.say], [], [kits.columns.say]),
    bad.map((one) => ({
      head: html`${one.rider}${small(one.phone ?? leads.noPhone)}`,
      cells: [
        html`<a href="${pathOfUnit(one.tag)}">${one.tag}</a> ${words.serviceKind(one.job.serviceKind)}, ${words.day(one.on, today)}${[...one.matters.stop, ...one.matters.soon].map((seen) => html`<br><strong>${seenText(words.language, seen)}</strong>`)}`,
        html`<div class="answers">${homeWord(viewer, one, 'called')}<a class="button" href="${pathOfUnit(one.tag)}/day">${leads.bookDay}</a></div>`,
      ],
    })),
  )}`;
}
