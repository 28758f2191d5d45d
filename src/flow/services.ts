import { dayOf } from '../core/calendar.js';
import type { Findings } from '../core/facts.js';
import { momentOf } from '../core/moment.js';
import { defaultRestarts, serviceKindsOf } from '../core/serviceKinds.js';
import type { ServiceKind } from '../core/tokens.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports.js';
import type { Day } from '../units.js';
import type { Entry } from './fittings.js';
import { recountUnit } from './refreshDue.js';
import { getWorkshop } from './settings.js';

export interface ServiceEntry {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly on: Day;
  /** Left out: what the kind restarts by default. */
  readonly restarts?: readonly ServiceKind[];
  readonly elsewhere: boolean;
  readonly findings: Findings | null;
  readonly note: string | null;
}

const refuse = (message: string, hint?: string): never => {
  throw new ServiceError('refused', 'log a service', message, hint === undefined ? {} : { hint });
};

/** Logs a service; the clocks that it restarts begin again with its day. Returns the service's entity id. */
export async function addService(tx: Tx, service: ServiceEntry, entry: Entry): Promise<string> {
  const { timeZone } = await getWorkshop(tx);
  const unit = await tx.facts.current('unit', service.unitId);
  if (!unit) throw new ServiceError('not-found', 'log a service', 'There is no such unit.');
  const { tag, unitKind, history } = unit.body;
  const kinds = serviceKindsOf(unitKind, []).map((kind) => kind.name);
  const restarts = service.restarts ?? defaultRestarts(unitKind, service.serviceKind, []);
  if (restarts === null) {
    refuse(
      `${tag} is a ${unitKind}: it has no service kind "${service.serviceKind}".`,
      `It has: ${kinds.join(', ')}.`,
    );
  }
  const unknown = restarts!.filter((kind) => !kinds.includes(kind));
  if (unknown.length > 0)
    refuse(`${tag} has no clock "${unknown.join('", "')}".`, `It has: ${kinds.join(', ')}.`);
  if (service.on > dayOf(entry.at, timeZone))
    refuse(`${service.on} has not come yet; a service is logged when it is done.`);
  if (history === 'new') {
    const fittings = await tx.facts.list('fitting', { subject: service.unitId });
    const firsts = fittings.map((fact) => dayOf(momentOf(fact.body.from, timeZone)!, timeZone)).sort();
    if (firsts[0] !== undefined && service.on < firsts[0]) {
      refuse(`${tag} came new on ${firsts[0]}; it cannot have been serviced on ${service.on}.`);
    }
  }
  const body = { ...service, restarts: restarts! };
  const fact = await tx.facts.add({ kind: 'service', body, ...entry });
  await recountUnit(tx, service.unitId, entry.at);
  return fact.entityId;
}
