import { html } from 'hono/html';
import { isStrong } from '../../../core/states.js';
import { middleHalfOf } from '../../../flow/mail/middleHalf.js';
import { mailTextsFor } from '../../../languages/index.js';
import type { StandingRow } from '../../../ports/standings.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../../units.js';
import { declaredPart } from '../../cells/declaredFields.js';
import { type Markup, NOTHING, soft } from '../../markup.js';
import { knownText } from '../../show.js';
import type { RiderView } from '../riderPage.js';

export const stateText = ({ voice }: RiderView, { state }: StandingRow): Markup =>
  isStrong(state) ? html`<strong>${voice.words.state[state]}</strong>` : html`${voice.words.state[state]}`;

/** Returns in one sentence why a service stands where it does: by the limit that comes first; empty where none does. */
export function whyText({ voice: { words }, today }: RiderView, standing: StandingRow): string {
  const { reason } = mailTextsFor(words.language).reminder;
  const { limit, interval, terrainMs, movingS, periodStart, state } = standing;
  if (state === 'history-unknown') return '';
  if (limit === 'months' && interval.months !== null && periodStart !== null) {
    const [months, since] = [words.counted(interval.months, 'month'), words.day(periodStart, today)];
    const on = standing.likely.p50;
    return on !== null && on > today
      ? reason.monthsAhead(months, since, words.day(on, today))
      : reason.months(months, since);
  }
  if (limit === 'terrain-hours' && interval.terrainHours !== null)
    return reason[limit](words.hours(hoursOfThousandths(terrainMs)), words.hours(interval.terrainHours));
  if (limit === 'moving-hours' && interval.movingHoursCeiling !== null)
    return reason[limit](words.hours(hoursOfSeconds(movingS)), words.hours(interval.movingHoursCeiling));
  return '';
}

/** Returns when the service is likely in words: the middle half of the days on which it may fall due. */
export function likelyOf({ voice, texts, today }: RiderView, standing: StandingRow): string {
  const { bikes } = texts.own;
  const about = middleHalfOf(standing);
  if (about === null) return bikes.unforeseen;
  if (about.from === about.to)
    return about.to <= today
      ? bikes.reached(voice.words.day(about.to, today))
      : voice.words.day(about.to, today);
  return voice.words.about(about.from, about.to, today);
}

/** Returns terrain hours of the interval's; of an unknown history those since the unit came. */
export function terrainOf({ voice: { words, texts } }: RiderView, standing: StandingRow): string {
  const hours = hoursOfThousandths(standing.terrainMs);
  const since = words.measured(hours);
  const limit = standing.interval.terrainHours;
  const declared = declaredPart({ words, texts }, hoursOfThousandths(standing.declaredMs ?? 0), hours);
  const told =
    standing.state === 'history-unknown'
      ? `${since}, ${texts.due.sinceItCame}`
      : limit === null
        ? since
        : texts.due.of(since, words.hours(limit));
  return declared === null ? told : `${told}; ${declared}`;
}

export function movingOf({ voice: { words, texts } }: RiderView, standing: StandingRow): string {
  const since = words.measured(hoursOfSeconds(standing.movingS));
  const limit = standing.interval.movingHoursCeiling;
  const hasLimit = limit !== null && standing.state !== 'history-unknown';
  return hasLimit ? texts.due.of(since, words.hours(limit)) : since;
}

/** Returns to which day the unit's rides are known, which is the same for all its services. */
export function knownLine({ voice, today }: RiderView, [standing]: readonly StandingRow[]): Markup {
  if (standing === undefined) return NOTHING;
  const { knownUpTo, expectedMs } = standing;
  return soft(knownText({ knownUpTo, expectedHours: hoursOfThousandths(expectedMs) }, voice, today));
}

export const unitName = (
  { voice: { words } }: RiderView,
  of: { unitKind: keyof typeof words.unitKind; tag: string },
) => `${words.unitKind[of.unitKind]} ${of.tag}`;

/** Returns the address of a page about a unit, or about a job on it. */
export const pathToUnit = (home: string, tag: string, kind?: string, act?: string): string =>
  [home, 'units', tag, ...(kind === undefined || act === undefined ? [] : [kind, act])]
    .map((part, i) => (i === 0 ? part : encodeURIComponent(part)))
    .join('/');
