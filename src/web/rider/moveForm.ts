/** The form that moves a ride to another of a rider's bikes, or says that it was on none of them. */

import { html } from 'hono/html';
import type { RideRow } from '../../ports/rides.js';
import { hoursOfSeconds } from '../../units.js';
import { choice, type Markup, NOTHING } from '../markup.js';
import type { Fields } from '../taken.js';
import { done, fault, form, type PageSaid, type RiderView, submit } from './riderPage.js';

/** Name by id. */
export type Bikes = ReadonlyMap<string, string>;

/** What stands for none of the rider's bikes; no id is like it. */
const NONE = 'none';

/** Nothing is chosen beforehand, so that nothing moves by a button alone. */
export function moveForm(
  view: RiderView,
  rides: readonly RideRow[],
  bikes: Bikes,
  hidden: Markup = NOTHING,
): Markup {
  const { texts, voice, today, sent } = view;
  const { bike: says } = texts;
  const first = { value: '', label: voice.texts.tray.choose };
  const labelOf = (ride: RideRow): string =>
    says.of(
      voice.words.day(ride.day!, today),
      voice.words.hours(hoursOfSeconds(ride.movingS)),
      bikes.get(ride.bikeId ?? '') ?? says.noBike,
    );
  return form(html`${hidden}
${choice({
  name: 'ride',
  label: says.ride,
  value: sent.ride ?? '',
  choices: [first, ...rides.map((ride) => ({ value: ride.id, label: labelOf(ride) }))],
})}
${choice({
  name: 'bike',
  label: says.bike,
  value: sent.bike ?? '',
  choices: [
    first,
    ...[...bikes].map(([value, label]) => ({ value, label })),
    { value: NONE, label: says.onNone },
  ],
})}
${submit(says.submit)}`);
}

/** Returns which bike was chosen; null for none of the rider's. */
export const bikeChosen = ({ bike = '' }: Fields): string | null => (bike === NONE ? null : bike);

export function saidOfMove(
  { texts }: RiderView,
  isMoved: boolean,
  bikes: Bikes,
  bikeId: string | null,
): PageSaid {
  const { need, said, saidNone } = texts.bike;
  if (!isMoved) return fault(need);
  return done(bikeId === null ? saidNone : said(bikes.get(bikeId) ?? ''));
}
