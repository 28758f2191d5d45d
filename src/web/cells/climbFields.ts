import { html } from 'hono/html';
import type { ClimbsAsked } from '../../flow/rides/listClimbs.js';
import { minutesIn, seconds } from '../../units.js';
import { type Markup, tick, when } from '../markup.js';
import { climbPlot } from '../plots/climbPlot.js';
import type { Fields } from '../taken.js';
import type { Voice } from '../viewer.js';

/** The boxes of a ride's climbs, each ticked as it is believed, under a picture of the day; and how they are read. */
export function climbFields(
  asked: ClimbsAsked,
  { texts: { tray }, words }: Pick<Voice, 'texts' | 'words'>,
  clock: (at: ClimbsAsked['startAt']) => string,
): Markup {
  const { climbs } = tray;
  const label = (climb: ClimbsAsked['climbs'][number]): string => {
    const one = climbs.one(clock(climb.at), Math.round(minutesIn(seconds(climb.seconds))), climb.upM);
    return `${climb.number}: ${one}${climb.heartBpm === null ? '' : `, ${climbs.heart(climb.heartBpm)}`}`;
  };
  const plot = climbPlot(asked, words.list(asked.climbs.map(label)));
  return html`
${when(plot !== null, () => plot!)}
<fieldset><legend>${climbs.lead}</legend>${asked.climbs.map((climb) => tick(`climb-${climb.number}`, label(climb), climb.isRidden))}</fieldset>`;
}

/** Returns the numbers of the boxes that came ticked. */
export const tickedClimbs = (fields: Fields): number[] =>
  Object.keys(fields).flatMap((name) => {
    const number = /^climb-(\d{1,3})$/.exec(name)?.[1];
    return number === undefined ? [] : [Number(number)];
  });
