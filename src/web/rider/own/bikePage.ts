import { html } from 'hono/html';
import { parseDay } from '../../../core/days/dayNumber.js';
import type { Fact } from '../../../core/ledger/facts.js';
import { GROUNDS } from '../../../core/tokens.js';
import { addDeclared } from '../../../flow/facts/enterFacts.js';
import { type BikeDeclared, getDeclared, sayStillSo } from '../../../flow/own/declare.js';
import {
  bringBack,
  findOwnBike,
  type OwnBike,
  sayHours,
  sayMotor,
  saySold,
  sayUsual,
  sayWet,
} from '../../../flow/own/ownBikes.js';
import type { Tx } from '../../../ports/store.js';
import { DAY_MINUTES, type Day, hoursOfSeconds, secondsOfMinutes } from '../../../units.js';
import { declaredFields, declaredIn, declaredText } from '../../cells/declaredFields.js';
import { taps } from '../../cells/taps.js';
import { field, type Markup, tick, when } from '../../markup.js';
import { capitalised } from '../../show.js';
import type { Fields } from '../../taken.js';
import {
  done,
  fault,
  form,
  notYours,
  type PageSaid,
  type RiderPage,
  type RiderView,
  submit,
} from '../riderPage.js';
import { unitName } from './cells.js';

const findBike = (tx: Tx, { opened, thing, now }: RiderView): Promise<OwnBike | undefined> =>
  findOwnBike(tx, opened.contact.riderId, thing ?? '', now);

const named = (say: string): Markup => html`<input type="hidden" name="say" value="${say}">`;

/** What a rider may say of one of their bikes. */
export const bikePage: RiderPage = {
  title: (texts) => texts.own.bike.title,
  show: async (tx, view) => {
    const found = await findBike(tx, view);
    if (!found) return notYours(view);
    const { bike: says } = view.texts.own;
    const { fact, units, stored } = found;
    const declared = await getDeclared(tx, fact.entityId, view.now);
    return html`<p class="lead">${fact.body.name}</p>
${declaredForm(view, declared)}
${hoursForm(view)}
<h2>${says.wetTitle}</h2><p>${says.wetLead}</p>
${form(html`${named('wet')}${field({ name: 'wetOn', label: says.day, type: 'date', value: view.sent.wetOn ?? view.today, isRequired: true })}${submit(says.wet)}`)}
${stored.map(
  ({ unit: { entityId, body } }) => html`<h2>${says.storedTitle(unitName(view, body))}</h2>
${form(html`${named('back')}<input type="hidden" name="unit" value="${entityId}">${submit(says.back)}`)}`,
)}
${when(!fact.body.sold, () => usualForm(view, fact.body.usual ?? null))}
<h2>${says.motorTitle}</h2>
${form(html`${named('motor')}${tick('motor', says.motor, fact.body.motor === true)}${submit(says.save)}`)}
${when(
  !fact.body.sold,
  () => html`<details class="entry"><summary><h2>${says.soldTitle}</h2></summary>
<p>${says.soldLead(units.map(({ body }) => unitName(view, body)).join(', '))}</p>
${form(html`${named('sold')}${field({ name: 'soldOn', label: says.day, type: 'date', value: view.sent.soldOn ?? view.today })}
${tick('sure', says.sure, false)}${submit(says.sold)}`)}</details>`,
)}`;
  },
  take: async (tx, view, fields) => {
    const found = await findBike(tx, view);
    if (!found) return fault(view.texts.notYours.says);
    const { bike: says } = view.texts.own;
    const bikeId = found.fact.entityId;
    switch (fields.say) {
      case 'declared': {
        const said = declaredIn(around(view), fields);
        if ('wrong' in said) return fault(said.wrong);
        await addDeclared(tx, { bikeId, ...said }, view.entry);
        return done(view.voice.texts.declared.saved);
      }
      case 'still':
        await sayStillSo(tx, bikeId, view.entry);
        return done(view.voice.texts.declared.thanks);
      case 'hours':
        return takeHours(tx, view, bikeId, fields);
      case 'wet':
        return takeWet(tx, view, bikeId, fields);
      case 'back': {
        const part = found.stored.find(({ unit }) => unit.entityId === fields.unit);
        if (!part) return fault(view.texts.notYours.says);
        await bringBack(tx, part, view.entry);
        return done(says.isBack(unitName(view, part.unit.body)));
      }
      case 'usual':
        return takeUsual(tx, view, found.fact, fields);
      case 'motor':
        await sayMotor(tx, bikeId, fields.motor === 'yes', view.entry);
        return done(says.motorSaid);
      case 'sold': {
        const on = parseDay(fields.soldOn ?? '');
        if (fields.sure !== 'yes' || on === null || on > view.today) return fault(says.needSure);
        await saySold(tx, found, on, view.entry);
        return done(says.soldSaid(found.fact.body.name));
      }
      default:
        return fault(says.needHours);
    }
  },
};

const around = ({ voice, today, workshop }: RiderView) => ({ ...voice, today, zone: workshop.timeZone });

function declaredForm(view: RiderView, { said, now, isToAsk }: BikeDeclared): Markup {
  const { texts } = view.voice;
  const { declared: says } = texts;
  const held =
    now === null
      ? when(said.length > 0, () => html`<p>${says.filesTell}</p>`)
      : isToAsk
        ? html`<p>${says.still(declaredText(view.voice, now.body))}</p>${form(html`${named('still')}${submit(says.yes)}`)}`
        : html`<p>${capitalised(declaredText(view.voice, now.body))}.</p>`;
  return html`<h2>${says.title}</h2><p>${says.lead}</p>${held}
${form(html`${named('declared')}${declaredFields(around(view), view.sent)}${submit(says.save)}`)}`;
}

function hoursForm({ texts, voice: { words }, sent, today }: RiderView): Markup {
  const { bike: says } = texts.own;
  return html`<h2>${says.hoursTitle}</h2><p>${says.hoursLead}</p>
${form(html`${named('hours')}
<div class="row">${field({ name: 'on', label: says.day, type: 'date', value: sent.on ?? today, isRequired: true })}
${field({ name: 'minutes', label: says.minutes, value: sent.minutes, inputmode: 'numeric', isShort: true, isRequired: true })}</div>
${taps(
  'ground',
  says.ground,
  sent.ground ?? 'typical',
  GROUNDS.map((one) => [one, words.ground[one]]),
)}
${submit(says.addHours)}`)}`;
}

/** Which bike it was if nothing tells: asked once, it spares a question a ride. */
function usualForm({ texts, voice: { words }, sent, today }: RiderView, usual: Day | null): Markup {
  const { bike: says } = texts.own;
  return html`<h2>${says.usualTitle}</h2>
${
  usual === null
    ? html`<p>${says.usualLead}</p>${form(html`${named('usual')}${field({ name: 'usualOn', label: says.usualFrom, type: 'date', value: sent.usualOn ?? today, isRequired: true })}${submit(says.usual)}`)}`
    : html`<p>${says.usualSince(words.day(usual, today))}</p>${form(html`${named('usual')}<input type="hidden" name="end" value="yes">${submit(says.usualEnd)}`)}`
}`;
}

async function takeUsual(tx: Tx, view: RiderView, bike: Fact<'bike'>, fields: Fields): Promise<PageSaid> {
  const { bike: says } = view.texts.own;
  const { name } = bike.body;
  if (fields.end === 'yes') {
    await sayUsual(tx, bike.entityId, null, view.entry);
    return done(says.usualEnded(name));
  }
  const from = parseDay(fields.usualOn ?? '');
  if (from === null || from > view.today) return fault(says.needUsual);
  await sayUsual(tx, bike.entityId, from, view.entry);
  return done(says.usualSaid(name, view.voice.words.day(from, view.today)));
}

async function takeHours(tx: Tx, view: RiderView, bikeId: string, fields: Fields): Promise<PageSaid> {
  const { bike: says } = view.texts.own;
  const on = parseDay(fields.on ?? '');
  const minutes = Number(fields.minutes ?? '');
  const ground = GROUNDS.find((one) => one === fields.ground) ?? 'typical';
  const isMeant = Number.isInteger(minutes) && minutes > 0 && minutes <= DAY_MINUTES;
  if (on === null || on > view.today || !isMeant) return fault(says.needHours);
  await sayHours(tx, bikeId, { on, minutes, ground }, view.entry);
  const { words } = view.voice;
  const hours = words.hours(hoursOfSeconds(secondsOfMinutes(minutes)));
  return done(says.hoursSaid(hours, words.day(on, view.today)));
}

async function takeWet(tx: Tx, view: RiderView, bikeId: string, fields: Fields): Promise<PageSaid> {
  const { bike: says } = view.texts.own;
  const on = parseDay(fields.wetOn ?? '');
  const count = on === null ? 0 : await sayWet(tx, bikeId, on, view.entry);
  if (on === null || count === 0) return fault(says.needWet);
  const { words } = view.voice;
  return done(says.wetSaid(words.counted(count, 'ride'), words.day(on, view.today)));
}
