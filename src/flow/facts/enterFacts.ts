import { canonical } from '../../core/canonical.js';
import type {
  DeclaredFact,
  Fact,
  HoursFact,
  IntervalFact,
  ServiceFact,
  UnrecordedFact,
} from '../../core/ledger/facts.js';
import { defaultRestarts, isFormerJob } from '../../core/ledger/serviceKinds.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { claimPhotos } from '../photos/photos.js';
import { refuse } from '../refuse.js';
import { listAddedKinds } from '../settings.js';
import { addFact, replaceFact } from './changeFact.js';
import { isSameScope } from './intervalScope.js';

/** Adds riding without a recorder. Returns the fact's id. */
export const addHours = async (tx: Tx, body: HoursFact, entry: Entry): Promise<string> =>
  (await addFact(tx, { kind: 'hours', body }, entry)).id;

/** Adds a share of a bike's riding that went unrecorded. Returns the fact's id. */
export const addUnrecorded = async (tx: Tx, body: UnrecordedFact, entry: Entry): Promise<string> =>
  (await addFact(tx, { kind: 'unrecorded', body }, entry)).id;

/** Adds riding on a bike that nobody records. Returns the fact's id. */
export const addDeclared = async (tx: Tx, body: DeclaredFact, entry: Entry): Promise<string> =>
  (await addFact(tx, { kind: 'declared', body }, entry)).id;

/** Sets or clears the crash mark: stop riding, have it seen. Returns the fact's id. */
export const markUnit = async (
  tx: Tx,
  unitId: string,
  stop: boolean,
  why: string,
  entry: Entry,
): Promise<string> => (await addFact(tx, { kind: 'mark', body: { unitId, stop, why } }, entry)).id;

/** A service as a person logs it; without `restarts`, what the kind restarts by default. */
export interface ServiceEntry extends Omit<ServiceFact, 'restarts'> {
  readonly restarts?: readonly ServiceKind[];
}

/** Returns the service of that kind and day that stands in the unit's book already. */
export const findSameService = async (
  tx: Tx,
  { unitId, serviceKind, on }: Pick<ServiceFact, 'unitId' | 'serviceKind' | 'on'>,
): Promise<Fact<'service'> | undefined> =>
  (await tx.facts.list('service', { subject: unitId })).find(
    ({ body }) => body.serviceKind === serviceKind && body.on === on,
  );

/**
 * Logs a service; the clocks that it restarts begin again with its day, and the photographs that wait are its own. What a
 * rider says was done elsewhere takes none of the bench. Returns the fact's id.
 */
export async function addService(tx: Tx, service: ServiceEntry, entry: Entry): Promise<string> {
  const { serviceKind } = service;
  if (isFormerJob(serviceKind)) refuse('kind-former', { serviceKind });
  const body = { ...service, restarts: service.restarts ?? (await usualRestarts(tx, service)) };
  const fact = await addFact(tx, { kind: 'service', body }, entry);
  if (!body.isClaim && body.by !== 'at-home') await claimPhotos(tx, service.unitId, fact.entityId, entry);
  return fact.id;
}

/**
 * Lets a service that stands by the rider's word restart its clocks. Returns the new fact's id.
 * Errors: `refused` where it does not, `already-replaced` where somebody was first.
 */
export async function agreeToClaim(tx: Tx, factId: string, why: string, entry: Entry): Promise<string> {
  const fact = await tx.facts.find(factId);
  if (fact?.kind !== 'service') return refuse('same-already');
  const { isClaim, ...service } = (fact as Fact<'service'>).body;
  if (!isClaim) refuse('same-already');
  const body = { ...service, restarts: await usualRestarts(tx, service) };
  return (await replaceFact(tx, factId, { kind: 'service', body }, { ...entry, why })).id;
}

/** Returns the clocks that a service restarts by default; none where the unit has no such job. */
export async function usualRestarts(
  tx: Tx,
  { unitId, serviceKind }: Pick<ServiceFact, 'unitId' | 'serviceKind'>,
): Promise<readonly ServiceKind[]> {
  const unit = await tx.facts.current('unit', unitId);
  return (unit && defaultRestarts(unit.body, serviceKind, await listAddedKinds(tx))) ?? [];
}

/**
 * Sets the interval of a service kind for its scope, in place of the rule that stood there, and recounts the units.
 * Returns the fact's id, or null where the same rule stands already.
 * Errors: `refused` where the unit kind has no such job or a number is out of range.
 */
export async function setInterval(
  tx: Tx,
  rule: IntervalFact,
  by: string,
  now: Instant,
): Promise<string | null> {
  const standing = (await tx.facts.list('interval')).find((fact) => isSameScope(fact.body, rule));
  if (standing && canonical(standing.body) === canonical(rule)) return null;
  const fact = { kind: 'interval' as const, body: rule };
  const entry = { by, at: now };
  const { id } = standing ? await replaceFact(tx, standing.id, fact, entry) : await addFact(tx, fact, entry);
  return id;
}
