import type { Bike } from '../../core/ledger/ledger.js';
import type { Tx } from '../../ports/store.js';
import type { Instant, Moment } from '../../units.js';
import { DAY_MS } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { BIKE_PLACES, type BikePlace, placeOf } from './checkFitting.js';
import { type Fleet, getFleetByName } from './fleet.js';
import { type FittingOn, listFittingsOn } from './unitFittings.js';

/** A swap that was entered lately: what came off which bike, and what went on in its place. */
export interface LastSwap {
  /** Null where nothing was on the bike. */
  readonly off: string | null;
  readonly on: string;
  readonly bike: string;
  readonly bikeHandle: string;
  readonly at: Moment;
  readonly by: string;
  readonly enteredAt: Instant;
}

/** What the page shows on which units of a fleet are swapped. */
export interface SwapPage {
  readonly fleet: Fleet;
  readonly last: LastSwap | null;
  readonly bare: readonly BarePlace[];
}

/** A place of a bike with nothing in it. */
export interface BarePlace {
  readonly bike: Bike;
  readonly place: BikePlace;
}

/** Errors: `not-found`. */
export async function getSwapPage(tx: Tx, handle: string, now: Instant): Promise<SwapPage> {
  const fleet = await getFleetByName(tx, handle, now);
  return { fleet, last: await findLastSwap(tx, fleet, now), bare: await listBare(tx, fleet) };
}

/** A bike that never had a unit in a place may not have the place: only one that never had any is asked about both. */
async function listBare(tx: Tx, { bikes, units }: Fleet): Promise<BarePlace[]> {
  const bare: BarePlace[] = [];
  for (const bike of bikes) {
    const ever = new Set<BikePlace>();
    for (const { body } of await tx.facts.list('fitting', { object: bike.id })) {
      const unit = await tx.facts.current('unit', body.unitId);
      if (unit) ever.add(placeOf(unit.body.unitKind));
    }
    const taken = units.filter((one) => one.bike?.id === bike.id).map(({ unit }) => placeOf(unit.unitKind));
    for (const place of BIKE_PLACES)
      if ((ever.size === 0 || ever.has(place)) && !taken.includes(place)) bare.push({ bike, place });
  }
  return bare;
}

/** So long a slip of the finger is likely to be seen. */
const SHOWN_MS = 2 * DAY_MS;

/** Returns the swap in a fleet that was entered last and stands; null where none was lately. */
async function findLastSwap(tx: Tx, { bikes, units }: Fleet, now: Instant): Promise<LastSwap | null> {
  const { timeZone } = await getWorkshop(tx);
  const own = new Map(units.map(({ unit }) => [unit.id, unit]));
  let last: (LastSwap & { readonly seq: number }) | null = null;
  for (const { id, name, handle } of bikes) {
    const fittings = await listFittingsOn(tx, id, timeZone);
    for (const begun of fittings) {
      const { recordedAt: enteredAt, recordedBy: by, seq, body } = begun.fact;
      if (now - enteredAt > SHOWN_MS || (last !== null && last.seq > seq)) continue;
      const on = own.get(body.unitId);
      const off = fittings
        .filter((one) => isTraded(one, begun))
        .map((one) => own.get(one.fact.body.unitId))
        .find((one) => one && on && placeOf(one.unitKind) === placeOf(on.unitKind));
      const isPut = off === undefined && begun.fact.replacesId === null && enteredAt - begun.from < SHOWN_MS;
      if (on && (off || isPut))
        last = {
          ...{ off: off?.tag ?? null, on: on.tag, bike: name, bikeHandle: handle },
          ...{ at: body.from, by, enteredAt, seq },
        };
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
