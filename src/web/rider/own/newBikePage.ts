import { html } from 'hono/html';
import { z } from 'zod';
import { BIKE_TYPES } from '../../../core/tokens.js';
import { addOwnBike } from '../../../flow/own/ownBikes.js';
import { taps } from '../../cells/taps.js';
import { bikeShape, unitsIn } from '../../customer/bikeFields.js';
import { field } from '../../markup.js';
import { done, fault, form, type RiderPage, submit } from '../riderPage.js';

/** A bike that comes new to its rider, with its fork and shock. */
export const newBikePage: RiderPage = {
  title: (texts) => texts.own.newBike.title,
  show: async (_tx, { texts, voice: { words }, sent, today }) => {
    const { newBike: says } = texts.own;
    const sprung = (['none', 'air', 'coil'] as const).map((one) => [one, says.sprung[one]] as const);
    return html`<p class="lead">${says.lead}</p>
${form(html`${field({ name: 'bike', label: says.name, value: sent.bike, isRequired: true })}
${taps(
  'type',
  says.type,
  sent.type ?? '',
  BIKE_TYPES.map((type) => [type, words.bikeType[type]]),
)}
${taps('fork', says.fork, sent.fork ?? 'air', sprung)}
${taps('shock', says.shock, sent.shock ?? 'none', sprung)}
${taps('history', says.history, sent.history ?? 'unknown', [
  ['new', says.histories.new],
  ['unknown', says.histories.unknown],
])}
${field({ name: 'since', label: says.since, type: 'date', value: sent.since ?? today })}
${submit(says.submit, true)}`)}`;
  },
  take: async (tx, { texts, opened, today, entry }, fields) => {
    const { newBike: says } = texts.own;
    const typed = { forkModel: '', shockModel: '', ...fields };
    const given = z.object(bikeShape(today)).safeParse(typed);
    if (!given.success) return fault(says.need);
    const { bike: name, type, since } = given.data;
    const { riderId } = opened.contact;
    const units = unitsIn(given.data);
    const added = await addOwnBike(tx, riderId, { name, type, since, units }, entry);
    return added === null ? fault(says.tooMany) : done(says.said(name));
  },
};
