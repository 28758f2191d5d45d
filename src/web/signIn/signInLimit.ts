import type { Instant } from '../../units.js';
import { tally } from '../door/tally.js';
import { FIRST } from './passwordTurn.js';

/**
 * Wrong tries in a quarter of an hour: for one name from one place, from one place, and by a browser that signed in to that
 * account before. A name that was tried so often that somebody must be guessing has fewer from each place; what others try
 * shuts out nobody.
 */
const MOST = { nameAndPlace: 8, guessedNameAndPlace: 3, place: 40, browser: 8 } as const;
const GUESSED_FROM = 100;

/** A try to sign in. */
export interface Tried {
  readonly name: string;
  readonly place: string;
  /** Null where this browser never signed in to that account. */
  readonly browser: string | null;
}

export interface SignInLimit {
  /**
   * Counts a try; returns how many came from its place before, looked at or not, so that who tried least is looked at first;
   * null where there were too many.
   */
  take(tried: Tried, now: Instant): number | null;
  /** Takes back what was counted then, for a try that was not looked at. */
  giveBack(tried: Tried, now: Instant): void;
  /** Forgets the tries of a place, or browser, that signed in; those from there for other names stay counted by name. */
  forgive(tried: Tried): void;
}

/** Returns a limit on guessing, kept in memory: a restart forgets it. */
export function signInLimit(): SignInLimit {
  const [names, places, namesAtPlaces, browsers, asked] = [tally(), tally(), tally(), tally(), tally()];
  const both = ({ name, place }: Tried): string => `${place} ${name}`;
  const count = (tried: Tried, now: Instant, much: 1 | -1): void => {
    if (tried.browser !== null) browsers.add(tried.browser, now, much);
    else {
      names.add(tried.name, now, much);
      places.add(tried.place, now, much);
      namesAtPlaces.add(both(tried), now, much);
    }
  };
  return {
    take: (tried, now) => {
      const isGuessed = names.count(tried.name, now) >= GUESSED_FROM;
      const most = isGuessed ? MOST.guessedNameAndPlace : MOST.nameAndPlace;
      const isTooMany =
        tried.browser !== null
          ? browsers.count(tried.browser, now) >= MOST.browser
          : places.count(tried.place, now) >= MOST.place || namesAtPlaces.count(both(tried), now) >= most;
      if (isTooMany) return null;
      count(tried, now, 1);
      if (tried.browser !== null) return FIRST;
      const before = asked.count(tried.place, now);
      asked.add(tried.place, now);
      return before;
    },
    giveBack: (tried, now) => count(tried, now, -1),
    forgive: (tried) => {
      if (tried.browser !== null) browsers.clear(tried.browser);
      else {
        places.clear(tried.place);
        asked.clear(tried.place);
        namesAtPlaces.clear(both(tried));
      }
    },
  };
}
