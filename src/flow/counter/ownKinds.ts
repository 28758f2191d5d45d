/** Service kinds of the workshop's own: what they restart, what restarts them, and their bench minutes. */
import { canonical } from '../../core/canonical.js';
import { handleFault } from '../../core/handle.js';
import type { Fact, IntervalFact, ServiceKindFact } from '../../core/ledger/facts.js';
import { serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { UNIT_KINDS, type UnitKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact } from '../facts/changeFact.js';
import { refuse } from '../refuse.js';
import { listAddedKinds } from '../settings.js';

export interface OwnKind {
  readonly fact: Fact<'serviceKind'>;
  /** The rule for all units; undefined where nobody set one. */
  readonly rule: IntervalFact | undefined;
}

/** What the page of the own kinds shows. */
export interface OwnKindsPage {
  readonly own: readonly OwnKind[];
  /** The clocks that units of each kind have. */
  readonly clocks: Readonly<Record<UnitKind, readonly string[]>>;
}

export async function getOwnKindsPage(tx: Tx): Promise<OwnKindsPage> {
  const rules = (await tx.facts.list('interval')).map(({ body }) => body);
  const added = await listAddedKinds(tx);
  const own = (await tx.facts.list('serviceKind')).map((fact) => ({
    fact,
    rule: rules.find(
      ({ unitKind, serviceKind, scope }) =>
        unitKind === fact.body.unitKind &&
        serviceKind === fact.body.name &&
        Object.values(scope).every((part) => part === null),
    ),
  }));
  const clocksOf = (unitKind: UnitKind): string[] =>
    serviceKindsOf({ unitKind }, added).map(({ name }) => name);
  const [fork, airShock, coilShock] = UNIT_KINDS.map(clocksOf) as [string[], string[], string[]];
  return { own, clocks: { fork, 'air-shock': airShock, 'coil-shock': coilShock } };
}

/** What somebody says of an own kind; it always restarts its own clock. */
export type OwnKindWords = Pick<ServiceKindFact, 'unitKind' | 'name' | 'benchMinutes'> & {
  readonly restarts: readonly string[];
  readonly restartedBy: readonly string[];
};

/**
 * Adds a kind, or puts what is said in the place of what a person saw; its interval stays. Returns whether anything is
 * other.
 * Errors: `refused`, `already-replaced`.
 */
export async function setOwnKind(
  tx: Tx,
  words: OwnKindWords,
  seenId: string | null,
  entry: Entry,
): Promise<boolean> {
  const { name } = words;
  const fault = handleFault(name);
  if (fault !== null) refuse('no-name', { name, fault });
  const { unitKind } = words;
  const clocks = serviceKindsOf({ unitKind }, await listAddedKinds(tx)).map((kind) => kind.name);
  for (const serviceKind of [...words.restarts, ...words.restartedBy])
    if (serviceKind !== name && !clocks.includes(serviceKind)) refuse('no-kind', { unitKind, serviceKind });
  const seen = seenId === null ? undefined : await tx.facts.find(seenId);
  const before = seen?.kind === 'serviceKind' ? (seen as Fact<'serviceKind'>) : null;
  const { terrainHours = null, months = null } = before?.body ?? {};
  const restarts = [name, ...words.restarts.filter((kind) => kind !== name)];
  const body: ServiceKindFact = { ...words, restarts, terrainHours, months };
  if (before === null) {
    await addFact(tx, { kind: 'serviceKind', body }, entry);
    return true;
  }
  const asShown = { restarts: [name], restartedBy: [], ...before.body };
  if (canonical(asShown) === canonical(body)) return false;
  await replaceFact(tx, before.id, { kind: 'serviceKind', body }, entry);
  return true;
}
