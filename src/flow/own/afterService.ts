/** Whether all is well after a service: asked once two rides have come since, and answered by the rider. */
import { addDays, dayOf, startOfDay } from '../../core/days/calendar.js';
import type { HeardFact } from '../../core/ledger/facts.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { listCharged } from '../due/listCharged.js';
import type { Entry } from '../entry.js';
import { addFact } from '../facts/changeFact.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';

/** The service that a rider is asked about. */
export interface AskedService {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly on: Day;
}

/** So many rides tell how it feels; later than so many days nobody would lay it at the service. */
const RIDES_SINCE = 2;
const ASKED_DAYS = 60;

/** Returns the latest service here that the rider may be asked about; null where there is nothing to ask. */
export async function findAskedService(tx: Tx, unitId: string, now: Instant): Promise<AskedService | null> {
  const { timeZone: zone } = await getWorkshop(tx);
  const services = (await tx.facts.list('service', { subject: unitId })).map(({ body }) => body);
  const last = services.reduce<(typeof services)[number] | null>(
    (one, next) => (one === null || next.on >= one.on ? next : one),
    null,
  );
  if (last?.by !== 'here' || addDays(last.on, ASKED_DAYS) < dayOf(now, zone)) return null;
  const { serviceKind, on } = last;
  const heard = await tx.facts.list('heard', { subject: unitId });
  if (heard.some(({ body }) => body.serviceKind === serviceKind && body.on === on)) return null;
  const rides = await listCharged(tx, await getUnitLedger(tx, unitId, zone), now, RIDES_SINCE);
  const since = startOfDay(on, zone);
  return rides.filter(({ ride }) => ride.start! >= since).length < RIDES_SINCE
    ? null
    : { unitId, serviceKind, on };
}

/** Writes down what the rider says of a service; `what` is null where all is well. Returns the fact's id. */
export const sayAfterService = async (
  tx: Tx,
  asked: AskedService,
  what: string | null,
  entry: Entry,
): Promise<string> => {
  const body: HeardFact = { ...asked, isWell: what === null, what };
  return (await addFact(tx, { kind: 'heard', body }, entry)).id;
};
