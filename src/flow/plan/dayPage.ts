import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { type Card, getCard, visitOf } from './card.js';
import { type DayPlan, getDayPlan } from './dayPlan.js';

/** What the page of one day shows: the list, and a card for each job that fits. */
export interface DayPage {
  readonly plan: DayPlan;
  readonly cards: readonly Card[];
}

export async function getDayPage(tx: Tx, now: Instant, on: Day | undefined): Promise<DayPage> {
  const plan = await getDayPlan(tx, now, on);
  const cards: Card[] = [];
  for (const { one, serviceKind, beside, fits } of plan.jobs)
    if (fits && serviceKind !== null) cards.push(await getCard(tx, one, visitOf(serviceKind, beside), now));
  return { plan, cards };
}
