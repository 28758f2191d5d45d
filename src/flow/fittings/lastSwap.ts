import type { Tx } from '../../ports/store.js';
import type { Instant, Moment } from '../../units.js';
import { DAY_MS } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { placeOf } from './checkFitting.js';
import { type Fleet, getFleetByName } from './fleet.js';
import { type FittingOn, listFittingsOn } from './unitFittings.js';

/** A swap that was entered lately: what came off which bike, and what went on in its place. */
export interface LastSwap {
  readonly off: string;
  readonly on: string;
  readonly bike: string;
  readonly at: Moment;
  readonly by: string;
  readonly enteredAt: Instant;
}

/** What the page shows on which units of a fleet are swapped. */
export interface SwapPage {
  readonly fleet: Fleet;
  readonly last: LastSwap | null;
}

/** Errors: `not-found`. */
export async function getSwapPage(tx: Tx, handle: string, now: Instant): Promise<SwapPage> {
  const fleet = await getFleetByName(tx, handle, now);
  return { fleet, last: await findLastSwap(tx, fleet, now) };
}

/** So long a slip of the finger is likely to be seen. */
const SHOWN_MS = 2 * DAY_MS;

/** Returns the swap in a fleet that was entered last and stands; null where none was lately. */
async function findLastSwap(tx: Tx, { bikes, units }: Fleet, now: Instant): Promise<LastSwap | null> {
  const { timeZone } = await getWorkshop(tx);
  const own = new Map(units.map(({ unit }) => [unit.id, unit]));
  let last: (LastSwap & { readonly seq: number }) | null = null;
  for (const { id, name } of bikes) {
    const fittings = await listFittingsOn(tx, id, timeZone);
    for (const begun of fittings) {
      const { recordedAt: enteredAt, recordedBy: by, seq, body } = begun.fact;
      if (now - enteredAt > SHOWN_MS || (last !== null && last.seq > seq)) continue;
      const on = own.get(body.unitId);
      const off = fittings
        .filter((one) => isTraded(one, begun))
        .map((one) => own.get(one.fact.body.unitId))
        .find((one) => one && on && placeOf(one.unitKind) === placeOf(on.unitKind));
      if (on && off) last = { off: off.tag, on: on.tag, bike: name, at: body.from, by, enteredAt, seq };
    }
  }
  return last;
}

/** One ended where the other began, and both were entered at once. */
const isTraded = (ended: FittingOn, begun: FittingOn): boolean =>
  ended.to === begun.from &&
  ended.fact.body.unitId !== begun.fact.body.unitId &&
  ended.fact.recordedAt === begun.fact.recordedAt &&
  begun.fact.replacesId === null;
