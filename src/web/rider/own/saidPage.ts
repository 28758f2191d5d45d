import { html } from 'hono/html';
import type { Fact } from '../../../core/ledger/facts.js';
import { listSaid, mayTakeBack, type SaidLine, takeBack } from '../../../flow/own/said.js';
import { hoursOfSeconds, secondsOfMinutes } from '../../../units.js';
import { type Markup, when } from '../../markup.js';
import { done, fault, form, type RiderPage, type RiderView } from '../riderPage.js';

/** What a rider said, newest first; what may be taken back has a button. */
export const saidPage: RiderPage = {
  title: (texts) => texts.own.said.title,
  staysOpen: true,
  show: async (tx, view) => {
    const lines = await listSaid(tx, view.opened.contact.riderId);
    const { said } = view.texts.own;
    if (lines.length === 0) return html`<p>${said.none}</p>`;
    return html`<p class="lead">${said.lead}</p>${lines.map((line) => lineMarkup(view, line))}`;
  },
  take: async (tx, view, { fact = '' }) => {
    const { said } = view.texts.own;
    const isDone = await takeBack(tx, view.opened.contact.riderId, fact, view.entry);
    return isDone ? done(said.takenBack) : fault(said.gone);
  },
};

function lineMarkup(view: RiderView, line: SaidLine): Markup {
  const { said } = view.texts.own;
  const { words } = view.voice;
  const text = textOf(view, line);
  return html`<article class="entry"><p><b>${words.day(line.on, view.today)}</b>: ${text}</p>
${when(mayTakeBack(line), () =>
  form(
    html`<input type="hidden" name="fact" value="${line.fact.id}"><button>${said.takeBack}<span class="hidden">: ${text}</span></button>`,
  ),
)}</article>`;
}

function textOf({ texts, voice: { words }, today }: RiderView, { kind, fact, about }: SaidLine): string {
  const { said } = texts.own;
  switch (kind) {
    case 'bike':
      return (fact as Fact<'bike'>).body.sold ? said.bikeSold(about) : said.bike(about);
    case 'service': {
      const { serviceKind, on } = (fact as Fact<'service'>).body;
      return said.service(about, words.serviceKind(serviceKind), words.day(on, today));
    }
    case 'hours': {
      const { on, minutes } = (fact as Fact<'hours'>).body;
      const hours = words.hours(hoursOfSeconds(secondsOfMinutes(minutes)));
      return said.hours(about, hours, words.day(on, today));
    }
    case 'gone':
      return said.gonePart(about, words.day((fact as Fact<'gone'>).body.on, today));
  }
}
