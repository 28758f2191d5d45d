import type { FleetUnit } from '../../flow/fittings/fleet.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Viewer } from '../viewer.js';

/** Returns what is left of one service's hours; months alone and an unknown history as words. */
export function leftText(
  { texts, words }: Pick<Viewer, 'texts' | 'words'>,
  { serviceKind, hoursLeft, interval, state }: StandingRow,
): string {
  const { fleet: says } = texts.team;
  const left =
    state === 'history-unknown'
      ? says.unknown
      : interval.terrainHours === null || hoursLeft === null
        ? says.months
        : hoursLeft >= 0
          ? words.measured(hoursLeft)
          : says.over(words.measured(-hoursLeft));
  return says.left(words.serviceKind(serviceKind), left);
}

/** Returns on whose bike a unit is, and until when it is on loan; other people's bikes are told to those who see them. */
export function lentText(
  { texts, words, today, fleet }: Viewer,
  { bike, until }: NonNullable<FleetUnit['elsewhere']>,
): string {
  const { hire } = texts;
  const named = fleet === null ? bike : texts.team.fleet.otherBike;
  if (until === null) return hire.elsewhere(named);
  return (until < today ? hire.loanLate : hire.loan)(named, words.weekday(until, today));
}

/** Returns the same of the service that comes first, with its state where it is any but in time. */
export function nearestText(viewer: Viewer, { standings: [first] }: FleetUnit): string {
  if (first === undefined) return '';
  const state =
    first.state === 'in-time' || first.state === 'stop-riding' ? [] : [viewer.words.state[first.state]];
  return [leftText(viewer, first), ...state].join(', ');
}
