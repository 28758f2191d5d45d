import type { Fact, IntervalFact } from '../../core/ledger/facts.js';
import {
  type AddedServiceKind,
  findServiceKind,
  type ServiceKindTerms,
} from '../../core/ledger/serviceKinds.js';
import { UNIT_KINDS, type UnitKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import { listAddedKinds } from '../settings.js';
import { isSameScope } from './intervalScope.js';

export type Limits = Pick<IntervalFact, 'terrainHours' | 'months' | 'movingHoursCeiling'>;

/** Which rule is meant: of a unit kind and service kind, for all units or for some. */
export interface RuleAddress extends Pick<IntervalFact, 'unitKind' | 'serviceKind' | 'scope'> {
  /** What it is for, as people call it. */
  readonly unitTag: string | null;
  readonly fleetHandle: string | null;
  readonly fleetName: string | null;
}

export interface ListedRule extends RuleAddress {
  readonly limits: Limits;
  /** Null for the usual rule, which nobody set. */
  readonly fact: Fact<'interval'> | null;
}

/** What the list of intervals shows. */
export interface IntervalsPage {
  /** Those that somebody set. */
  readonly rules: readonly ListedRule[];
  readonly added: readonly AddedServiceKind[];
}

export async function getIntervalsPage(tx: Tx): Promise<IntervalsPage> {
  const facts = await tx.facts.list('interval');
  const idsOf = (key: 'unitId' | 'fleetId'): string[] =>
    facts.map(({ body }) => body.scope[key]).filter((id) => id !== null);
  const tags = await tx.handles.listOf('unit', idsOf('unitId'));
  const fleets = await tx.handles.listOf('fleet', idsOf('fleetId'));
  const names = await listFleetNames(tx);
  const rules = facts.map((fact): ListedRule => {
    const { unitKind, serviceKind, scope, ...limits } = fact.body;
    const unitTag = scope.unitId === null ? null : (tags.get(scope.unitId) ?? scope.unitId);
    const fleetHandle = scope.fleetId === null ? null : (fleets.get(scope.fleetId) ?? scope.fleetId);
    const fleetName = scope.fleetId === null ? null : (names.get(scope.fleetId) ?? fleetHandle);
    return { unitKind, serviceKind, scope, unitTag, fleetHandle, fleetName, limits, fact };
  });
  return { rules, added: await listAddedKinds(tx) };
}

/** What the page of one rule shows. */
export interface IntervalPage extends RuleAddress {
  readonly terms: ServiceKindTerms;
  /** The one in force; undefined where nobody set one. */
  readonly fact: Fact<'interval'> | undefined;
}

const listFleetNames = async (tx: Tx): Promise<Map<string, string>> =>
  new Map((await tx.facts.list('fleet')).map(({ entityId, body }) => [entityId, body.name]));

const nothingThere = (): never => {
  throw new ServiceError('not-found', 'There is no such interval.');
};

/** Returns the rule that an address names, as its page shows it. Errors: `not-found`. */
export async function getIntervalPage(
  tx: Tx,
  kind: string,
  serviceKind: string,
  query: Readonly<Record<string, string>>,
): Promise<IntervalPage> {
  const unitKind: UnitKind = UNIT_KINDS.find((one) => one === kind) ?? nothingThere();
  const terms = findServiceKind({ unitKind }, serviceKind, await listAddedKinds(tx)) ?? nothingThere();
  const unitId = query.unit ? ((await tx.handles.find('unit', query.unit)) ?? nothingThere()) : null;
  const fleetId = query.fleet ? ((await tx.handles.find('fleet', query.fleet)) ?? nothingThere()) : null;
  const address = { unitKind, serviceKind, scope: { unitId, fleetId, model: query.model || null } };
  return {
    ...address,
    unitTag: query.unit || null,
    fleetHandle: query.fleet || null,
    fleetName: fleetId === null ? null : ((await listFleetNames(tx)).get(fleetId) ?? null),
    terms,
    fact: (await tx.facts.list('interval')).find((one) => isSameScope(one.body, address)),
  };
}
