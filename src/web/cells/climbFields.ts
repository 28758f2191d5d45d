import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import { type ClimbsAsked, climbSums, type LikeDay } from '../../flow/rides/listClimbs.js';
import { type Day, hoursOfSeconds, minutesIn, type Seconds, seconds } from '../../units.js';
import { type Markup, tick, when } from '../markup.js';
import { climbPlot } from '../plots/climbPlot.js';
import { scriptPath } from '../scripts.js';
import type { Fields } from '../taken.js';
import type { Voice } from '../viewer.js';

type ClimbVoice = Pick<Voice, 'texts' | 'words'>;

/**
 * The boxes of a ride's climbs, each ticked as it is believed, under a picture of the day, and what that comes to: a
 * script changes both sums with the ticks, and without one they are told with the answer.
 */
export function climbFields(
  asked: ClimbsAsked,
  voice: ClimbVoice,
  clock: (at: ClimbsAsked['startAt']) => string,
): Markup {
  const { texts, words } = voice;
  const { climbs } = texts.tray;
  const label = (climb: ClimbsAsked['climbs'][number]): string => {
    const one = climbs.one(clock(climb.at), Math.round(minutesIn(seconds(climb.seconds))), climb.upM);
    return `${climb.number}: ${one}${climb.heartBpm === null ? '' : `, ${climbs.heart(climb.heartBpm)}`}`;
  };
  const plot = climbPlot(asked, words.list(asked.climbs.map(label)), voice);
  const { countedS, leftS } = climbSums(asked);
  const sum = (name: string, s: Seconds): Markup =>
    html`<dd><output data-sum="${name}">${words.hours(hoursOfSeconds(s))}</output></dd>`;
  return html`
${when(plot !== null, () => plot!)}
<fieldset data-beside-s="${asked.besideS}" data-climbs-s="${asked.climbs.map(({ movingS }) => movingS).join(' ')}"><legend>${climbs.lead}</legend>${asked.climbs.map((climb) => tick(`climb-${climb.number}`, label(climb), climb.isRidden))}
<dl class="facts"><dt>${climbs.counts}</dt>${sum('counted', countedS)}<dt>${climbs.left}</dt>${sum('left', leftS)}</dl></fieldset>
<script type="module" src="${scriptPath('climbSums')}"></script>`;
}

/** The boxes of a like day as it was answered, sent by one press. */
export const likeDayFields = ({ ridden }: LikeDay): Markup =>
  html`${ridden.map((number) => html`<input type="hidden" name="climb-${number}" value="yes">`)}`;

/** Returns for which day it was answered so, and how many were ridden. */
export const likeDayText = (
  { at, ridden }: LikeDay,
  { climbs }: ClimbsAsked,
  { texts, words, zone, today }: ClimbVoice & { readonly zone: string; readonly today: Day },
): string => texts.tray.climbs.likeDay(words.weekday(dayOf(at, zone), today), ridden.length, climbs.length);

/** Returns what an answer came to: how much counts, and how much does not. */
export function climbsToldOf(asked: ClimbsAsked, { texts, words }: ClimbVoice): string {
  const { countedS, leftS } = climbSums(asked);
  const hours = (s: Seconds): string => words.hours(hoursOfSeconds(s));
  return texts.tray.climbs.sums(hours(countedS), hours(leftS));
}

/** Returns the numbers of the boxes that came ticked. */
export const tickedClimbs = (fields: Fields): number[] =>
  Object.keys(fields).flatMap((name) => {
    const number = /^climb-(\d{1,3})$/.exec(name)?.[1];
    return number === undefined ? [] : [Number(number)];
  });
