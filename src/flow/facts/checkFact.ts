/** What a fact must fulfil beside its shape, and which facts hold others in place. */

import { dayOf, isTimeZone } from '../../core/days/calendar.js';
import type {
  AnswerFact,
  Fact,
  FactBodies,
  FactKind,
  Findings,
  InspectionFact,
  IntervalFact,
  PartFact,
  ServiceFact,
  ServiceKindFact,
} from '../../core/ledger/facts.js';
import { findingsFault } from '../../core/ledger/findings.js';
import { rideFault } from '../../core/ledger/inspection.js';
import type { Weights } from '../../core/ledger/ledger.js';
import { momentOf } from '../../core/ledger/moment.js';
import {
  defaultRestarts,
  findServiceKind,
  isNameTaken,
  serviceKindsOf,
  type UnitSort,
} from '../../core/ledger/serviceKinds.js';
import { sheetLines } from '../../core/ledger/sheet.js';
import { CLAMP, type Clamp, FLEET_CLAMP } from '../../core/ledger/weight.js';
import type { Holder } from '../../core/refusals.js';
import type { UnitKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { DAY_MINUTES } from '../../units.js';
import { checkFitting } from '../fittings/checkFitting.js';
import { checkGone } from '../fittings/checkGone.js';
import { refuse } from '../refuse.js';
import { getWorkshop, listAddedKinds } from '../settings.js';
import { checkDeclared, checkHours, checkUnrecorded } from './checkRiding.js';
import { isSameScope } from './intervalScope.js';
import type { Change } from './touched.js';

type Proposed<K extends FactKind> = Omit<Change<K>, 'entityId' | 'after'> & {
  /** Null for a new one. */
  readonly entityId: string | null;
  readonly after: FactBodies[K];
};

type Check<K extends FactKind> = (tx: Tx, proposed: Proposed<K>, at: Instant) => Promise<void> | void;

const isBetween = (value: number, low: number, high: number): boolean => value >= low && value <= high;

const CHECKS: { readonly [K in FactKind]?: Check<K> } = {
  workshop: (_tx, { before, after }) => {
    if (before !== null && before.handle !== after.handle) refuse('workshop-name', { name: before.handle });
    if (!isTimeZone(after.timeZone)) refuse('time-zone', { zone: after.timeZone });
  },
  weights: (tx, { after }) => checkWeights(tx, after),
  unit: async (tx, { entityId, before, after }) => {
    if (before === null || before.unitKind === after.unitKind || entityId === null) return;
    const book = [
      ...(await tx.facts.list('fitting', { subject: entityId })),
      ...(await tx.facts.list('service', { subject: entityId })),
    ];
    if (book.length > 0)
      refuse('unit-kind', { tag: after.tag, before: before.unitKind, after: after.unitKind });
  },
  sheet: (_tx, { after }) => {
    const names: readonly string[] = sheetLines(after);
    const unknown = Object.keys(after.values).filter((name) => !names.includes(name));
    // What differs for one unit may be of a kind that it was before.
    if (unknown.length > 0 && after.scope.unitId === null) refuse('sheet-lines', { unknown, names });
    if (after.checkedBy !== null && after.checkedBy === after.typedBy) refuse('sheet-own-check');
  },
  fitting: (tx, proposed, at) => checkFitting(tx, proposed, at),
  gone: (tx, proposed, at) => checkGone(tx, proposed, at),
  serviceKind: (tx, proposed) => checkServiceKind(tx, proposed),
  service: (tx, { before, after }, at) => checkService(tx, after, before, at),
  inspection: (tx, { after }, at) => checkInspection(tx, after, at),
  interval: (tx, { entityId, after }) => checkInterval(tx, after, entityId),
  hours: (tx, { after }, at) => checkHours(tx, after, at),
  unrecorded: (tx, { entityId, after }) => checkUnrecorded(tx, after, entityId),
  declared: (tx, { after }) => checkDeclared(tx, after),
  part: (tx, { after }) => checkPart(tx, after),
  answer: (_tx, { after }, at) => checkAnswer(after, at),
};

/** Errors: `refused`, naming the conflict. */
export async function checkBody<K extends FactKind>(
  tx: Tx,
  proposed: Proposed<K>,
  at: Instant,
): Promise<void> {
  await (CHECKS[proposed.kind] as Check<K> | undefined)?.(tx, proposed, at);
}

/** Returns between which weights one takes effect: only on a fleet's bikes do those above the narrower bounds. */
export const getWeightBounds = async (tx: Tx): Promise<Clamp> =>
  (await tx.facts.list('fleet')).length > 0 ? FLEET_CLAMP : CLAMP;

/** Terrain seconds for each second in the air: more would be a slip of the hand. */
export const MOST_LANDING = 60;

/** Errors: `refused` where one could never take effect, or smooth ground weighs more than rough. */
export async function checkWeights(tx: Tx, { smooth, typical, rough, landing }: Weights): Promise<void> {
  const { low, high } = await getWeightBounds(tx);
  for (const [ground, value] of [
    ['smooth', smooth],
    ['typical', typical],
    ['rough', rough],
  ] as const)
    if (!isBetween(value, low, high)) refuse('weight-range', { ground, low, high, value });
  if (landing !== undefined && !isBetween(landing, 0, MOST_LANDING))
    refuse('landing-range', { most: MOST_LANDING, value: landing });
  if (smooth > typical || typical > rough) refuse('weights-fall', { smooth, typical, rough });
}

async function today(tx: Tx, at: Instant): Promise<Day> {
  return dayOf(at, (await getWorkshop(tx)).timeZone);
}

/** What stood in a line may stay there when it is put right: a fork may have had air when it was done. */
async function checkService(
  tx: Tx,
  service: ServiceFact,
  before: ServiceFact | null,
  at: Instant,
): Promise<void> {
  const unit = await tx.facts.current('unit', service.unitId);
  if (!unit) throw new ServiceError('not-found', 'There is no such unit.');
  const { tag, unitKind } = unit.body;
  const added = await listAddedKinds(tx);
  const kinds = serviceKindsOf(unit.body, added).map((kind) => kind.name);
  const isOther = before?.serviceKind !== service.serviceKind;
  if (isOther && defaultRestarts(unit.body, service.serviceKind, added) === null)
    refuse('not-of-unit', { tag, unitKind, serviceKind: service.serviceKind, kinds });
  const unknown = service.restarts.filter(
    (kind) => !kinds.includes(kind) && !before?.restarts.includes(kind),
  );
  if (unknown.length > 0) refuse('no-clock', { tag, unknown, kinds });
  if (service.on > (await today(tx, at))) refuse('service-to-come', { on: service.on });
  const known = before?.findings ?? {};
  const said = Object.entries(service.findings ?? {}).filter(([name, word]) => known[name] !== word);
  checkFindings(unit.body, Object.fromEntries(said));
}

/** Nobody says that a unit may be ridden after a crash without having looked at all of it. */
async function checkInspection(tx: Tx, inspection: InspectionFact, at: Instant): Promise<void> {
  const unit = await tx.facts.current('unit', inspection.unitId);
  if (!unit) throw new ServiceError('not-found', 'There is no such unit.');
  const { cause, result, findings, on } = inspection;
  if (on > (await today(tx, at))) refuse('time-to-come');
  checkFindings(unit.body, findings);
  const fault = cause === 'crash' && result === 'ride' ? rideFault(unit.body, findings) : null;
  if (fault?.code === 'ride-unseen') refuse(fault.code, fault);
  if (fault?.code === 'ride-harmed') refuse(fault.code, fault);
}

function checkFindings(unit: UnitSort, findings: Findings): void {
  const fault = findingsFault(unit, findings);
  if (fault?.code === 'no-finding') refuse(fault.code, fault);
  if (fault?.code === 'foam-rings') refuse(fault.code, fault);
  if (fault?.code === 'put-back-or-new') refuse(fault.code, fault);
}

async function checkServiceKind(tx: Tx, { entityId, before, after }: Proposed<'serviceKind'>): Promise<void> {
  const { unitKind, name } = after;
  if (before && (before.name !== name || before.unitKind !== unitKind))
    refuse('kind-stays', { name: before.name });
  if (isNameTaken(unitKind, name)) refuse('kind-is-there', { unitKind, name });
  const same = (await tx.facts.list('serviceKind')).filter(
    ({ entityId: other, body }) => other !== entityId && body.unitKind === unitKind && body.name === name,
  );
  if (same.length > 0) refuse('kind-added', { name });
}

async function checkKind(tx: Tx, unitKind: UnitKind, serviceKind: string): Promise<void> {
  if (!findServiceKind({ unitKind }, serviceKind, await listAddedKinds(tx)))
    refuse('no-kind', { unitKind, serviceKind });
}

async function checkInterval(tx: Tx, rule: IntervalFact, entityId: string | null): Promise<void> {
  await checkKind(tx, rule.unitKind, rule.serviceKind);
  const { terrainHours, months, movingHoursCeiling: ceiling } = rule;
  if (terrainHours !== null && !(terrainHours > 0 && terrainHours <= 10_000)) refuse('interval-hours');
  if (months !== null && !(Number.isInteger(months) && isBetween(months, 1, 240))) refuse('interval-months');
  if (typeof ceiling === 'number' && !(ceiling > 0 && ceiling <= 10_000)) refuse('interval-ceiling');
  const other = (await tx.facts.list('interval')).find(
    (fact) => fact.entityId !== entityId && isSameScope(fact.body, rule),
  );
  if (other) refuse('interval-there', { fact: other.id });
}

const checkPart = (tx: Tx, { unitKind, serviceKind }: PartFact): Promise<void> =>
  checkKind(tx, unitKind, serviceKind);

function checkAnswer({ on, minutes }: AnswerFact, at: Instant): void {
  if (on !== undefined && on > at) refuse('time-to-come');
  if (minutes !== undefined && !(minutes > 0 && minutes <= DAY_MINUTES)) refuse('minutes');
}

/** After the change: no service of a unit that came new lies before its first fitting. */
export async function checkUnitBook<K extends FactKind>(
  tx: Tx,
  { kind, before, after }: Change<K>,
): Promise<void> {
  if (kind !== 'unit' && kind !== 'fitting' && kind !== 'service') return;
  const zone = (await getWorkshop(tx)).timeZone;
  for (const unitId of new Set([before, after].flatMap((body) => unitIdsOf(body)))) {
    const unit = await tx.facts.current('unit', unitId);
    if (unit?.body.history !== 'new') continue;
    const fittings = await tx.facts.list('fitting', { subject: unitId });
    const first = fittings.map((fact) => dayOf(momentOf(fact.body.from, zone)!, zone)).sort()[0];
    if (first === undefined) continue;
    const early = (await tx.facts.list('service', { subject: unitId })).find(({ body }) => body.on < first);
    if (early) refuse('before-it-came', { tag: unit.body.tag, first, on: early.body.on, fact: early.id });
  }
}

const unitIdsOf = (body: object | null): string[] =>
  body !== null && 'unitId' in body ? [String(body.unitId)] : [];

type Held = { readonly by: Holder; readonly name: string } | null;

/** Which facts stand on another, so that it cannot be made void before them. */
const HOLDERS: {
  readonly [K in FactKind]?: (tx: Tx, entityId: string, fact: Fact<K>) => Promise<Held>;
} = {
  workshop: async () => ({ by: 'ledger', name: '' }),
  rider: async (tx, riderId) => {
    const [bike] = await tx.facts.list('bike', { object: riderId });
    return bike ? { by: 'bike', name: bike.body.handle } : null;
  },
  fleet: async (tx, fleetId) => {
    const bike = (await tx.facts.list('bike')).find((fact) => fact.body.fleetId === fleetId);
    if (bike) return { by: 'bike', name: bike.body.handle };
    const rule = (await tx.facts.list('interval')).find((fact) => fact.body.scope.fleetId === fleetId);
    if (rule) return { by: 'interval', name: rule.id };
    const [member] = await tx.facts.list('membership', { object: fleetId });
    return member ? { by: 'membership', name: member.id } : null;
  },
  gone: async (tx, _entityId, { body: { unitId, how, on } }) => {
    if (how !== 'back') return null;
    const since = (await tx.facts.list('fitting', { subject: unitId })).find(({ body }) => body.from >= on);
    return since ? { by: 'fitting', name: since.id } : null;
  },
  bike: async (tx, bikeId) => {
    const [fitting] = await tx.facts.list('fitting', { object: bikeId });
    if (fitting) return { by: 'fitting', name: fitting.id };
    const [hours] = await tx.facts.list('hours', { subject: bikeId });
    if (hours) return { by: 'hours', name: hours.id };
    const [share] = await tx.facts.list('unrecorded', { subject: bikeId });
    if (share) return { by: 'unrecorded', name: share.id };
    const [declared] = await tx.facts.list('declared', { subject: bikeId });
    if (declared) return { by: 'declared', name: declared.id };
    const rides = await tx.rides.listOf({ bikeIds: [bikeId], riderIds: [] });
    if (rides.length > 0) return { by: 'rides', name: String(rides.length) };
    const race = (await tx.facts.list('race')).find((fact) => fact.body.bikeIds.includes(bikeId));
    return race ? { by: 'race', name: race.body.handle } : null;
  },
  unit: async (tx, unitId) => {
    const [fitting] = await tx.facts.list('fitting', { subject: unitId });
    if (fitting) return { by: 'fitting', name: fitting.id };
    const [service] = await tx.facts.list('service', { subject: unitId });
    return service ? { by: 'service', name: service.id } : null;
  },
  serviceKind: async (tx, _entityId, { body }) => holderOfKind(tx, body),
};

async function holderOfKind(tx: Tx, { unitKind, name }: ServiceKindFact): Promise<Held> {
  const rules = [...(await tx.facts.list('interval')), ...(await tx.facts.list('part'))];
  const rule = rules.find(({ body }) => body.unitKind === unitKind && body.serviceKind === name);
  if (rule) return { by: rule.kind, name: rule.id };
  for (const { id, body } of await tx.facts.list('service')) {
    if (body.serviceKind !== name && !body.restarts.includes(name)) continue;
    const unit = await tx.facts.current('unit', body.unitId);
    if (unit?.body.unitKind === unitKind) return { by: 'service', name: id };
  }
  return null;
}

/** Errors: `refused` where something else stands on it. */
export async function checkVoid<K extends FactKind>(tx: Tx, fact: Fact<K>): Promise<void> {
  const find = HOLDERS[fact.kind] as ((tx: Tx, entityId: string, fact: Fact<K>) => Promise<Held>) | undefined;
  const holder = await find?.(tx, fact.entityId, fact);
  if (holder) refuse('held', holder);
}
