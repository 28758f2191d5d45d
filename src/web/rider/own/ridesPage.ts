import { html } from 'hono/html';
import type { Question } from '../../../core/tokens.js';
import { getOwnRides } from '../../../flow/due/ownPage.js';
import { listBikeNames } from '../../../flow/due/riderUnits.js';
import { answerTray } from '../../../flow/rides/answerTray.js';
import type { TrayAnswer } from '../../../flow/rides/joinWords.js';
import { findClimbsSaid } from '../../../flow/rides/listClimbs.js';
import { listAskingOf, type TrayRow } from '../../../flow/rides/listTray.js';
import { isBikeOf, moveRide } from '../../../flow/rides/moveRide.js';
import { answerSets } from '../../../flow/rides/rideSets.js';
import type { RideRow } from '../../../ports/rides.js';
import type { Tx } from '../../../ports/store.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../../units.js';
import { climbsToldOf, tickedClimbs } from '../../cells/climbFields.js';
import { nextStep } from '../../cells/nextStep.js';
import { EntryForm, NotTaken } from '../../entryForm.js';
import { columnsOf, type Markup, soft, table, when } from '../../markup.js';
import type { Fields } from '../../taken.js';
import { type Bikes, bikeChosen, moveForm, saidOfMove } from '../moveForm.js';
import { done, fault, form, type PageSaid, type RiderPage, type RiderView, submit } from '../riderPage.js';
import { questionMarkup } from './questionMarkup.js';
import { sendingText, setAnswersIn, setsMarkup } from './setsMarkup.js';

const RIDES_SHOWN = 8;
/** What else is asked comes a few at a time. */
const QUESTIONS_SHOWN = 4;

/** The rides that wait for an answer, and the latest ones with the bikes that they count for. */
export const ridesPage: RiderPage = {
  title: (texts) => texts.own.rides.title,
  staysOpen: true,
  show: async (tx, view) => {
    const { rides: texts } = view.texts.own;
    const { riderId } = view.opened.contact;
    const { bikes, sets, asking, sending, latest, former } = await getOwnRides(tx, riderId, view.now);
    return html`
${when(sending !== null, () => html`<p>${sendingText(view, sending)}</p>`)}
${setsMarkup(view, sets, bikes)}
${riddenMarkup(view, asking)}
${when(
  asking.length > 0,
  () =>
    html`<h2>${texts.asks}</h2>${asking.slice(0, QUESTIONS_SHOWN).map((row) => questionMarkup(view, row, bikes))}${soft(asking.length <= QUESTIONS_SHOWN ? null : texts.more(asking.length - QUESTIONS_SHOWN))}`,
)}
<h2>${texts.latest}</h2>
${latest.length === 0 ? nextStep(texts.none, `${view.home}/files`, view.texts.own.files.title) : rideTable(view, latest.slice(0, RIDES_SHOWN), bikes, former)}
${wrongBike(view, latest, bikes)}`;
  },
  take: async (tx, view, fields) => {
    try {
      if (fields.say === 'sets') return await answerTogether(tx, view, fields);
      if (fields.say === 'ridden') return await sayRidden(tx, view);
      return fields.say === 'move' ? await move(tx, view, fields) : await answer(tx, view, fields);
    } catch (error) {
      if (error instanceof NotTaken) return fault(error.message);
      throw error;
    }
  },
};

async function answerTogether(tx: Tx, view: RiderView, fields: Fields): Promise<PageSaid> {
  const { riderId } = view.opened.contact;
  const { sets: says, open } = view.texts.own.rides;
  const answers = setAnswersIn(fields);
  if (answers === null) return fault(says.needDays);
  const answered = await answerSets(tx, riderId, answers, view.entry);
  if (answered === null) return fault(says.need);
  const bikes = await listBikeNames(tx, riderId);
  const { counted } = view.voice.words;
  const each = [...answered.rides].map(([bikeId, count]) =>
    bikeId === null
      ? says.onNone(counted(count, 'ride'))
      : says.on(counted(count, 'ride'), bikes.get(bikeId) ?? ''),
  );
  return done([says.done(view.voice.words.list(each)), answered.left > 0 ? open : ''].join(' ').trim());
}

/** Two rides and more of which stretches may not have been ridden are answered by one tap. */
const riddenMarkup = ({ texts }: RiderView, asking: readonly TrayRow[]): Markup => {
  const { ridden } = texts.own.rides;
  const count = asking.filter(({ code }) => RIDDEN_ASKED.includes(code)).length;
  return when(
    count > 1,
    () =>
      html`<section><h2>${ridden.title(count)}</h2><p>${ridden.lead}</p>${form(html`<input type="hidden" name="say" value="ridden">${submit(ridden.submit)}`)}</section>`,
  );
};

const RIDDEN_ASKED: readonly Question[] = ['climbs', 'vehicle'];

async function sayRidden(tx: Tx, view: RiderView): Promise<PageSaid> {
  const asked = (await listAskingOf(tx, view.opened.contact.riderId)).filter(({ question }) =>
    RIDDEN_ASKED.includes(question!),
  );
  for (const { id } of asked) await answerTray(tx, id, { ride: true }, view.entry);
  const { gone, ridden } = view.texts.own.rides;
  return asked.length === 0 ? fault(gone) : done(ridden.done(view.voice.words.counted(asked.length, 'ride')));
}

async function move(tx: Tx, view: RiderView, fields: Fields): Promise<PageSaid> {
  const { riderId } = view.opened.contact;
  const bikeId = bikeChosen(fields);
  const isMoved = await moveRide(tx, riderId, fields.ride ?? '', bikeId, view.entry);
  return saidOfMove(view, isMoved, await listBikeNames(tx, riderId), bikeId);
}

async function answer(tx: Tx, view: RiderView, fields: Fields): Promise<PageSaid> {
  const { riderId } = view.opened.contact;
  const { gone, kept, counted, indoors, open } = view.texts.own.rides;
  const asked = (await listAskingOf(tx, riderId)).find((ride) => ride.id === fields.ride);
  if (!asked) return fault(gone);
  const ride = await answerTray(tx, asked.id, await answerOf(tx, view, fields), view.entry);
  if (ride.dismissed) return done(kept);
  if (ride.question !== null) return done(open);
  const climbs = await findClimbsSaid(tx, ride);
  if (climbs !== null) return done(`${counted} ${climbsToldOf(climbs, view.voice)}`);
  return done(ride.indoor ? indoors : counted);
}

async function answerOf(tx: Tx, view: RiderView, fields: Fields): Promise<TrayAnswer> {
  const { voice, today, now, workshop, opened } = view;
  const entry = new EntryForm(fields, { texts: voice.texts, today, now, zone: workshop.timeZone });
  const say = entry.choice('say', ['yes', 'no', 'bike', 'on', 'on-minutes', 'minutes', 'climbs']);
  switch (say) {
    case 'yes':
    case 'no':
      return { ride: say === 'yes' };
    case 'bike': {
      const { bike = '' } = fields;
      if (!(await isBikeOf(tx, opened.contact.riderId, bike)))
        throw new NotTaken(voice.texts.tray.needChoice);
      return { bikeId: bike };
    }
    case 'climbs':
      return { ridden: tickedClimbs(fields) };
    case 'on':
      return { on: entry.moment('on', 'at') };
    case 'minutes':
      return { minutes: entry.minutes('minutes') };
    case 'on-minutes':
      return { on: entry.moment('on', 'at'), minutes: entry.minutes('minutes') };
  }
}

function rideTable(
  view: RiderView,
  rides: readonly RideRow[],
  bikes: Bikes,
  former: ReadonlySet<string>,
): Markup {
  const { columns, noBike, byHand, formerReader } = view.texts.own.rides;
  const { words } = view.voice;
  return table(
    columnsOf(Object.values(columns), [columns.moving, columns.terrain]),
    rides.map((ride) => ({
      head: html`<b>${words.day(ride.day!, view.today)}</b>`,
      cells: [
        html`${bikes.get(ride.bikeId ?? '') ?? noBike}`,
        html`${words.measured(hoursOfSeconds(ride.movingS))}${when(ride.source === 'hand', () => html`<small>${byHand}</small>`)}${when(former.has(ride.id), () => html`<small>${formerReader}</small>`)}`,
        html`${words.measured(hoursOfThousandths(ride.terrainMs))}`,
      ],
    })),
  );
}

function wrongBike(view: RiderView, latest: readonly RideRow[], bikes: Bikes): Markup {
  const { own, bike } = view.texts;
  return when(
    latest.length > 0,
    () => html`<h2>${own.rides.wrong}</h2><p>${bike.lead}</p>
${moveForm(view, latest, bikes, html`<input type="hidden" name="say" value="move">`)}`,
  );
}
