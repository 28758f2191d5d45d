import { startOfDay } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { momentOf } from '../../core/ledger/moment.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant, Moment } from '../../units.js';
import { refuse } from '../refuse.js';
import { fittingOf } from '../unitLedger.js';

/** Errors: `refused` where the text is neither a day nor a time. */
export const readMoment = (text: Moment, zone: string): Instant =>
  momentOf(text, zone) ?? refuse('no-moment', { text });

/** A fitting in force, as it was said and as moments. */
export interface FittingOn {
  readonly fact: Fact<'fitting'>;
  readonly from: Instant;
  readonly to: Instant | null;
}

export const fittingOn = (fact: Fact<'fitting'>, zone: string): FittingOn => {
  const { from, to } = fittingOf(fact, zone);
  return { fact, from, to };
};

/** Returns the fittings of a unit, in order of entry. */
export const listFittings = async (tx: Tx, unitId: string, zone: string): Promise<FittingOn[]> =>
  (await tx.facts.list('fitting', { subject: unitId })).map((fact) => fittingOn(fact, zone));

/** Returns all that ever was on a bike, in order of entry. */
export const listFittingsOn = async (tx: Tx, bikeId: string, zone: string): Promise<FittingOn[]> =>
  (await tx.facts.list('fitting', { object: bikeId })).map((fact) => fittingOn(fact, zone));

/** Returns the tag that a unit has now. */
export const tagOf = async (tx: Tx, unitId: string): Promise<string> =>
  (await tx.facts.current('unit', unitId))?.body.tag ?? 'The unit';

/** Returns whether nothing was on a bike at the start of a day, when hours by hand are charged. */
export async function isBareOn(tx: Tx, bikeId: string, day: Day, zone: string): Promise<boolean> {
  const at = startOfDay(day, zone);
  const fittings = await listFittingsOn(tx, bikeId, zone);
  return !fittings.some(({ from, to }) => from <= at && (to === null || at < to));
}
