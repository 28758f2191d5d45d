import { dayOf } from '../../core/days/calendar.js';
import { type MovedRide, withMovedRides } from '../../flow/fittings/movedRides.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds } from '../../units.js';
import { type EntryForm, NotTaken } from '../entryForm.js';
import { type Markup, tick, when } from '../markup.js';
import type { After } from '../taken.js';
import type { Viewer } from '../viewer.js';

const MOST_NAMED = 6;

/**
 * Does what changes fittings. Where rides that count for a unit would count for another, or for none, a person sees them
 * first. Errors: NotTaken, which takes all of it back, until the form is ticked.
 */
export async function askWhatMoves<T>(
  tx: Tx,
  form: EntryForm,
  of: { readonly unitIds: readonly string[]; readonly bikeIds?: readonly string[] },
  work: () => Promise<T>,
): Promise<T> {
  const { made, rides } = await withMovedRides(tx, of, work);
  const taken = rides.filter(({ from }) => from !== null);
  if (taken.length > 0 && !form.isTicked('moved')) throw new NotTaken(movedText(form.viewer, taken), 'moved');
  return made;
}

function movedText({ texts, words, today, zone }: Viewer, rides: readonly MovedRide[]): string {
  const { moved } = texts.team;
  const none = texts.team.moved.none;
  const named = rides
    .slice(0, MOST_NAMED)
    .map(({ start, movingS, from, to }) =>
      moved.ride(
        words.day(dayOf(start, zone), today),
        words.hours(hoursOfSeconds(movingS)),
        from ?? none,
        to ?? none,
      ),
    );
  const more = rides.length > MOST_NAMED ? [moved.more(rides.length - MOST_NAMED)] : [];
  return moved.ask([...named, ...more].join('; '));
}

/** The tick that says yes, where it was asked for. */
export const movedTick = ({ texts }: Viewer, { at }: Pick<After, 'at'>): Markup =>
  when(at === 'moved', () => tick('moved', texts.team.moved.yes, false));
