import type { ServiceFact } from '../core/facts.js';
import { defaultRestarts } from '../core/serviceKinds.js';
import type { ServiceKind } from '../core/tokens.js';
import type { Tx } from '../ports.js';
import { addFact } from './changeFact.js';
import type { Entry } from './entry.js';
import { listAddedKinds } from './settings.js';

/** A service as a person logs it; without `restarts`, what the kind restarts by default. */
export interface ServiceEntry extends Omit<ServiceFact, 'restarts'> {
  readonly restarts?: readonly ServiceKind[];
}

/** Logs a service; the clocks that it restarts begin again with its day. Returns the fact's id. */
export async function addService(tx: Tx, service: ServiceEntry, entry: Entry): Promise<string> {
  const body = { ...service, restarts: service.restarts ?? (await usualRestarts(tx, service)) };
  return (await addFact(tx, { kind: 'service', body }, entry)).id;
}

/** Returns the clocks that a service restarts by default; none where the unit has no such job. */
export async function usualRestarts(
  tx: Tx,
  { unitId, serviceKind }: Pick<ServiceFact, 'unitId' | 'serviceKind'>,
): Promise<readonly ServiceKind[]> {
  const unit = await tx.facts.current('unit', unitId);
  return (unit && defaultRestarts(unit.body.unitKind, serviceKind, await listAddedKinds(tx))) ?? [];
}
