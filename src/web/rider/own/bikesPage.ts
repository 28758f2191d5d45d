import { html } from 'hono/html';
import type { JobFact } from '../../../core/ledger/facts.js';
import { isTold } from '../../../core/states.js';
import type { OwnBikeShown } from '../../../flow/due/ownPage.js';
import { getOwnBikes } from '../../../flow/due/ownPage.js';
import type { RiderBike, RiderUnit } from '../../../flow/due/riderUnits.js';
import { declaredText } from '../../cells/declaredFields.js';
import { small } from '../../cells/dueCells.js';
import { nextStep } from '../../cells/nextStep.js';
import { type Markup, NOTHING, when } from '../../markup.js';
import { chooseForm } from '../atHome/homePage.js';
import { fault, type RiderPage, type RiderView } from '../riderPage.js';
import {
  knownLine,
  likelyOf,
  movingOf,
  pathToUnit,
  stateText,
  terrainOf,
  unitName,
  whyText,
} from './cells.js';

/** What a rider sees first: the bikes, their forks and shocks, and what comes next for each. */
export const bikesPage: RiderPage = {
  title: (texts) => texts.own.bikes.title,
  show: async (tx, view) => {
    const { bikes: texts } = view.texts.own;
    const { riderId } = view.opened.contact;
    const { bikes, asking } = await getOwnBikes(tx, riderId, view.now);
    const units = bikes.flatMap((bike) => bike.units);
    const first = units.find((unit) => unit.isAsked) ?? units.find(mayAsk);
    return html`
<p class="lead">${texts.lead}</p>
${when(
  asking > 0,
  () =>
    html`<p><strong>${texts.questions(asking)}</strong> <a href="${view.home}/rides">${texts.answer}</a></p>`,
)}
${bikes.length === 0 ? nextStep(texts.none, `${view.home}/bikes/new`, texts.newBike) : bikes.map((bike) => bikeMarkup(view, bike, first))}
<p class="row">${when(bikes.length > 0, () => html`<a class="button" href="${view.home}/bikes/new">${texts.newBike}</a>`)}
<a class="button" href="${view.home}/said">${texts.said}</a>
<a class="button" href="${view.home}/help">${texts.help}</a></p>
<p class="soft">${view.voice.texts.severityNote}</p>`;
  },
  take: async (_tx, view) => fault(view.texts.own.bikes.lead),
};

const pathOf = ({ home }: RiderView, { handle }: RiderBike['bike']): string =>
  `${home}/bikes/${encodeURIComponent(handle)}`;

/** A service is near, and no day is asked for. */
const mayAsk = ({ standings: [next], lead, stopWhy }: RiderUnit): boolean =>
  next !== undefined && isTold(next.state) && lead === null && stopWhy === null;

/** `first` is the unit of whose buttons one is what the page is for. */
const bikeMarkup = (
  view: RiderView,
  { bike, units, asked }: OwnBikeShown,
  first: RiderUnit | undefined,
): Markup => html`
<section class="entry"><h2>${bike.name}</h2>
${when(
  asked !== null,
  () => html`<p>${view.voice.texts.declared.still(declaredText(view.voice, asked!))}</p>
<form class="row" method="post" action="${pathOf(view, bike)}"><input type="hidden" name="say" value="still"><div class="field"><button>${view.voice.texts.declared.yes}</button></div><a class="button" href="${pathOf(view, bike)}">${view.voice.texts.declared.no}</a></form>`,
)}
${units.length === 0 ? html`<p>${view.texts.own.bikes.noUnit}</p>` : units.map((unit) => unitMarkup(view, unit, unit === first))}
<p class="screen"><a href="${pathOf(view, bike)}">${view.texts.own.bikes.change(bike.name)}</a></p>
</section>`;

function unitMarkup(view: RiderView, one: RiderUnit, isFirst: boolean): Markup {
  const { unit, standings, lead, stay, stopWhy, isAsked, atHome } = one;
  const look = isFirst ? 'button primary' : 'button';
  const { bikes: texts } = view.texts.own;
  const { words } = view.voice;
  const name = unitName(view, unit);
  const [next] = standings;
  const of = html`<span class="hidden">${texts.moreOf(name)}</span>`;
  const more = html`<a class="button" href="${pathToUnit(view.home ?? '', unit.tag)}">${texts.more}${of}</a>`;
  const title = html`<h3>${name}${unit.model === null ? '' : `, ${unit.model}`}</h3>`;
  if (stopWhy !== null)
    return html`${title}<div class="said" role="alert"><p><strong>${texts.stop}</strong></p><p>${texts.stopWhy(stopWhy)}</p><p>${view.texts.call(view.workshop.phone, view.workshop.email)}</p></div><p>${more}</p>`;
  const question = view.voice.texts.bench.question.riderTitle;
  const waits = when(
    isAsked,
    () => html`<p><a class="${look}" href="${pathToUnit(view.home ?? '', unit.tag)}">${question}</a></p>`,
  );
  const there = stay === null ? NOTHING : html`<p><strong>${stayText(view, stay.job)}</strong></p>`;
  if (!next) return html`${title}${waits}${there}<p>${more}</p>`;
  const to = (act: string): string => pathToUnit(view.home ?? '', unit.tag, next.serviceKind, act);
  const toDo = [...atHome].find(([, says]) => says !== 'allowed');
  const facts: (readonly [string, Markup | string])[] = [
    [
      texts.next,
      html`${words.serviceKind(next.serviceKind)}, ${stateText(view, next)}${small(whyText(view, next))}`,
    ],
    ...(lead === null ? [] : [[texts.day, dayText(view, lead, to('ask'), of)] as const]),
    [texts.likely, likelyOf(view, next)],
    [texts.terrain, terrainOf(view, next)],
    [texts.moving, movingOf(view, next)],
  ];
  return html`${title}${waits}${there}
${when(next.state === 'history-unknown', () => html`<p>${texts.unknown}</p>`)}
<dl class="facts">${facts.map(([label, value]) => html`<dt>${label}</dt><dd>${value}</dd>`)}</dl>
${knownLine(view, standings)}
<p class="row">${when(
    mayAsk(one),
    () => html`<a class="${isAsked ? 'button' : look}" href="${to('ask')}">${texts.ask}${of}</a>
<a class="button" href="${to('done')}">${texts.done}${of}</a>
`,
  )}${when(
    toDo !== undefined,
    () => html`<a class="button" href="${pathToUnit(view.home ?? '', unit.tag, toDo![0], 'home')}">${view.texts.home.at[toDo![1]]}${of}</a>
`,
  )}${more}</p>${when(atHome.get(next.serviceKind) === 'allowed' && mayAsk(one), () => chooseForm(view, to('home'), of))}`;
}

/** Where a unit at the workshop stands there, and the day it is promised for. */
function stayText({ texts, voice: { words }, today }: RiderView, { step, promisedFor }: JobFact): string {
  const { atWorkshop, promised, ready } = texts.own.bikes;
  if (step === 'done' || step === 'informed') return ready;
  const day = promisedFor === null ? null : promised(words.weekday(promisedFor, today));
  return [atWorkshop(words.jobStep[step]), day].filter((part) => part !== null).join(', ');
}

/** A day that went by is asked about, where nobody said what came of it. */
function dayText(
  { texts, voice: { words }, today }: RiderView,
  { state, day }: NonNullable<RiderUnit['lead']>,
  path: string,
  of: Markup,
): Markup {
  const { booked, asked, passed, changeDay } = texts.own.bikes;
  const on = words.weekday(day, today);
  const says = day < today ? passed(on) : state === 'booked' ? booked(on) : asked(on);
  return html`${says} <a href="${path}">${day < today ? texts.own.bikes.answer : changeDay}${of}</a>`;
}
