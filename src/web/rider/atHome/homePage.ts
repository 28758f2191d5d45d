import { html } from 'hono/html';
import { chooseHome, findHomePage, type HomePage } from '../../../flow/home/atHome.js';
import { changeHome } from '../../../flow/home/steps.js';
import { LARGEST_PHOTO_MB } from '../../cells/photoCells.js';
import { useText } from '../../cells/planCells.js';
import { type Markup, NOTHING, when } from '../../markup.js';
import { unitName } from '../own/cells.js';
import { done, fault, form, notYours, type PageSaid, type RiderPage, type RiderView } from '../riderPage.js';
import { homeForm, takeHomeForm } from './homeForm.js';
import { guideMarkup } from './homeGuideMarkup.js';

/**
 * A job that a rider does at home: chosen here, led through in the order of the card, on paper or on a phone, and logged
 * at its end.
 */
export const homePage: RiderPage = {
  title: ({ home }) => home.title,
  staysOpen: true,
  script: 'sendOnPhoto',
  show: async (tx, view) => {
    const page = await find(tx, view);
    if (!page) return notYours(view);
    const { home } = view.texts;
    const name = html`<p class="lead">${view.texts.about(page.bike, unitName(view, page.unit))}</p>`;
    // It was done today: there is nothing to choose or to lead through.
    if (page.chosen === null && page.standing.periodStart === view.today) return name;
    if (page.chosen === null && page.job === null) return html`${name}<p>${home.notAllowed}</p>`;
    return html`${name}
${page.chosen === null ? offer(view, page) : chosen(view, page)}`;
  },
  take: async (tx, view, fields) => {
    const { home } = view.texts;
    const page = await find(tx, view);
    if (!page) return fault(view.texts.notYours.says);
    if (fields.say === 'choose') return choose(view, page, tx);
    if (page.chosen === null) return fault(home.gone);
    if (fields.say === 'still') {
      await changeHome(tx, page.chosen, { stillOn: view.today }, view.entry);
      return done(home.stillSaid);
    }
    if (fields.say === 'leave') {
      await changeHome(tx, page.chosen, { step: 'not-wanted' }, view.entry);
      return done(home.left, {
        href: `${view.path.replace(/\/home$/, '/ask')}`,
        label: view.texts.ask.title,
      });
    }
    return takeHomeForm(tx, view, page, page.chosen, fields);
  },
};

const find = (tx: Parameters<RiderPage['show']>[0], { opened, now }: RiderView): Promise<HomePage | null> =>
  findHomePage(tx, opened.contact.riderId, opened.link, now);

async function choose(
  { texts: { home }, opened, entry, ids }: RiderView,
  page: HomePage,
  tx: Parameters<RiderPage['take']>[0],
): Promise<PageSaid> {
  // Sent twice is chosen once.
  if (page.chosen !== null) return done(home.chosen);
  if (page.job === null) return fault(home.notAllowed);
  return (await chooseHome(tx, opened.contact.riderId, page, entry, ids))
    ? done(home.chosen)
    : fault(home.isBooked);
}

/** The press by which a rider chooses it: nothing is mailed, and it can be taken back. */
export const chooseForm = ({ texts: { home } }: RiderView, path: string, of: Markup): Markup =>
  html`<form method="post" action="${path}"><input type="hidden" name="say" value="choose"><button>${home.at.allowed}${of}</button></form>`;

const kit = ({ voice, texts: { home } }: RiderView, { parts }: HomePage): Markup =>
  html`<h2>${home.kit}</h2><ul>${parts.map((use) => html`<li>${useText(use, voice)}</li>`)}</ul>`;

const offer = (view: RiderView, page: HomePage): Markup => html`
<p>${view.texts.home.lead(view.voice.words.serviceKind(page.standing.serviceKind))}</p>
${kit(view, page)}
<p>${view.texts.home.rests}</p>
${chooseForm(view, view.path, NOTHING)}
${guideMarkup(view, page)}`;

const chosen = (view: RiderView, page: HomePage): Markup => {
  const { home } = view.texts;
  const { chosenOn, pickedUp } = page.chosen!.body;
  const say = (word: string, label: string): Markup =>
    form(html`<input type="hidden" name="say" value="${word}"><button>${label}</button>`);
  return html`
${when(page.isAsked, () => html`<section class="entry screen"><p>${home.asked(view.voice.words.day(chosenOn, view.today))}</p><div class="answers">${say('still', home.still)}</div></section>`)}
${kit(view, page)}
<p>${pickedUp === null ? home.toPickUp : home.pickedUp}</p>
<p class="screen">${home.print}</p>
${guideMarkup(view, page)}
${homeForm(view, page, LARGEST_PHOTO_MB)}
${say('leave', home.leave)}`;
};
