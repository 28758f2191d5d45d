import { html } from 'hono/html';
import { isBikeOf, moveRide } from '../../../flow/answerLink.js';
import { answerTray, type TrayAnswer } from '../../../flow/answerTray.js';
import { listAskingOf, listTray } from '../../../flow/listTray.js';
import type { RideRow, Tx } from '../../../ports.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../../units.js';
import { EntryForm, NotTaken } from '../../entryForm.js';
import { choice, type Markup, table, when } from '../../markup.js';
import {
  done,
  type Fields,
  fault,
  form,
  type RiderPage,
  type RiderView,
  type Said,
  submit,
} from '../riderPage.js';
import { questionMarkup } from './questionMarkup.js';

const RIDES_SHOWN = 8;

/** The rides that wait for an answer, and the latest ones with the bikes that they count for. */
export const ridesPage: RiderPage = {
  title: (texts) => texts.own.rides.title,
  staysOpen: true,
  show: async (tx, view) => {
    const { rides: texts } = view.texts.own;
    const { riderId } = view.opened.contact;
    const bikes = await bikesOf(tx, riderId);
    const asking = await listTray(tx, await listAskingOf(tx, riderId));
    const latest = await tx.rides.listLatestOfRider(riderId, RIDES_SHOWN);
    return html`
${when(
  asking.length > 0,
  () => html`<h2>${texts.asks}</h2>${asking.map((row) => questionMarkup(view, row, bikes))}`,
)}
<h2>${texts.latest}</h2>
${latest.length === 0 ? html`<p>${texts.none}</p>` : rideTable(view, latest, bikes)}
${wrongBike(view, latest, bikes)}`;
  },
  take: async (tx, view, fields) => {
    try {
      return fields.say === 'move' ? await move(tx, view, fields) : await answer(tx, view, fields);
    } catch (error) {
      if (error instanceof NotTaken) return fault(error.message);
      throw error;
    }
  },
};

/** Name by id. */
export type Bikes = ReadonlyMap<string, string>;

const bikesOf = async (tx: Tx, riderId: string): Promise<Bikes> =>
  new Map((await tx.facts.list('bike', { object: riderId })).map((fact) => [fact.entityId, fact.body.name]));

async function move(tx: Tx, view: RiderView, { ride = '', bike = '' }: Fields): Promise<Said> {
  const { riderId } = view.opened.contact;
  const { need, said } = view.texts.bike;
  const isMoved = await moveRide(tx, riderId, ride, bike, view.entry);
  return isMoved ? done(said((await bikesOf(tx, riderId)).get(bike) ?? '')) : fault(need);
}

async function answer(tx: Tx, view: RiderView, fields: Fields): Promise<Said> {
  const { riderId } = view.opened.contact;
  const { gone, kept, counted, indoors, open } = view.texts.own.rides;
  const asked = (await listAskingOf(tx, riderId)).find((ride) => ride.id === fields.ride);
  if (!asked) return fault(gone);
  const ride = await answerTray(tx, asked.id, await answerOf(tx, view, fields), view.entry);
  if (ride.dismissed) return done(kept);
  if (ride.question !== null) return done(open);
  return done(ride.indoor ? indoors : counted);
}

async function answerOf(tx: Tx, view: RiderView, fields: Fields): Promise<TrayAnswer> {
  const { voice, today, now, workshop, opened } = view;
  const entry = new EntryForm(fields, { texts: voice.texts, today, now, zone: workshop.timeZone });
  const say = entry.choice('say', ['yes', 'no', 'bike', 'on', 'on-minutes']);
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
    case 'on':
      return { on: entry.moment('on', 'at') };
    case 'on-minutes':
      return { on: entry.moment('on', 'at'), minutes: entry.minutes('minutes') };
  }
}

function rideTable(view: RiderView, rides: readonly RideRow[], bikes: Bikes): Markup {
  const { columns, noBike, byHand } = view.texts.own.rides;
  const { words } = view.voice;
  return table(
    Object.values(columns).map((label) => ({ label })),
    rides.map((ride) => ({
      head: html`<b>${words.day(ride.day!, view.today)}</b>`,
      cells: [
        html`${bikes.get(ride.bikeId ?? '') ?? noBike}`,
        html`${words.hours(hoursOfSeconds(ride.movingS))}${when(ride.source === 'hand', () => html`<small>${byHand}</small>`)}`,
        html`${words.hours(hoursOfThousandths(ride.terrainMs))}`,
      ],
    })),
  );
}

function wrongBike(view: RiderView, latest: readonly RideRow[], bikes: Bikes): Markup {
  const { texts, voice, today } = view;
  const rides = latest.filter((ride) => ride.source === 'recorded');
  return when(
    rides.length > 0 && bikes.size > 1,
    () => html`<h2>${texts.own.rides.wrong}</h2><p>${texts.bike.lead}</p>
${form(html`<input type="hidden" name="say" value="move">
${choice({
  name: 'ride',
  label: texts.bike.ride,
  value: '',
  choices: rides.map((ride) => ({
    value: ride.id,
    label: texts.bike.of(
      voice.words.day(ride.day!, today),
      voice.words.hours(hoursOfSeconds(ride.movingS)),
      bikes.get(ride.bikeId ?? '') ?? texts.bike.noBike,
    ),
  })),
})}
${choice({
  name: 'bike',
  label: texts.bike.bike,
  value: [...bikes.keys()].find((id) => id !== rides[0]?.bikeId) ?? '',
  choices: [...bikes].map(([value, label]) => ({ value, label })),
})}
${submit(texts.bike.submit)}`)}`,
  );
}
