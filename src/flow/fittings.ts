import { addDays } from '../core/calendar.js';
import type { FittingFact, Moment } from '../core/facts.js';
import type { Fitting } from '../core/ledger.js';
import { momentOf } from '../core/moment.js';
import type { UnitKind } from '../core/tokens.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports.js';
import { type Day, type Instant, isoTime } from '../units.js';
import { recountBikes, recountUnit } from './refreshDue.js';
import { getWorkshop } from './settings.js';
import { askAgain } from './settleReadings.js';
import { fittingOf } from './unitLedger.js';

/** Who enters something, and when. */
export interface Entry {
  readonly by: string;
  readonly at: Instant;
}

/** The day's start, or the moment after its last ride: a ride goes whole to what was fitted at its start. */
export const afterLastRideOf = (day: Day): Moment => addDays(day, 1);

const refuse = (message: string, hint?: string): never => {
  throw new ServiceError('refused', 'change a fitting', message, hint === undefined ? {} : { hint });
};

const placeOf = (unitKind: UnitKind): string => (unitKind === 'fork' ? 'fork' : 'rear shock');

const overlap = (a: Fitting, b: Fitting): boolean =>
  a.from < (b.to ?? Number.POSITIVE_INFINITY) && b.from < (a.to ?? Number.POSITIVE_INFINITY);

/** Errors: `refused` where the unit is elsewhere then, or the bike has another in that place, naming it. */
async function checkFree(tx: Tx, wanted: Fitting, zone: string): Promise<void> {
  const unit = await tx.facts.current('unit', wanted.unitId);
  const others = [
    ...(await tx.facts.list('fitting', { subject: wanted.unitId })),
    ...(await tx.facts.list('fitting', { object: wanted.bikeId })),
  ].map((fact) => fittingOf(fact, zone));
  for (const other of others) {
    if (other.id === wanted.id || !overlap(other, wanted)) continue;
    const span = `from ${isoTime(other.from)}${other.to === null ? ' on' : ` to ${isoTime(other.to)}`}`;
    const bike = (await tx.facts.current('bike', other.bikeId))?.body.handle;
    if (other.unitId === wanted.unitId) {
      refuse(`${unit?.body.tag} is on bike ${bike} ${span}.`, 'Take it off first, or swap the two units.');
    }
    const otherUnit = await tx.facts.current('unit', other.unitId);
    if (unit && otherUnit && placeOf(unit.body.unitKind) === placeOf(otherUnit.body.unitKind)) {
      refuse(
        `Bike ${bike} has ${otherUnit.body.tag} as its ${placeOf(unit.body.unitKind)} ${span}.`,
        'Take that one off first, or swap the two units.',
      );
    }
  }
}

function readMoment(text: Moment, zone: string): Instant {
  return momentOf(text, zone) ?? refuse(`"${text}" is neither a day (YYYY-MM-DD) nor a time (ISO 8601).`);
}

/** Adds a fitting; the rides of its time move to the unit. Returns the fitting's entity id. */
export async function addFitting(tx: Tx, body: FittingFact, entry: Entry): Promise<string> {
  const { timeZone } = await getWorkshop(tx);
  const from = readMoment(body.from, timeZone);
  const to = body.to === null ? null : readMoment(body.to, timeZone);
  if (to !== null && to <= from) refuse('A fitting must end after it begins.');
  await checkFree(tx, { ...body, id: '', from, to }, timeZone);
  const fact = await tx.facts.add({ kind: 'fitting', body, ...entry });
  await recountBikes(tx, [body.bikeId], entry.at);
  await askAgain(tx, body.bikeId, entry.at);
  return fact.entityId;
}

/** Ends the fitting that is on at the moment. Returns the new fact's id. */
export async function endFitting(tx: Tx, unitId: string, at: Moment, entry: Entry): Promise<string> {
  const { timeZone } = await getWorkshop(tx);
  const end = readMoment(at, timeZone);
  const facts = await tx.facts.list('fitting', { subject: unitId });
  const found = facts.find((fact) => {
    const fitting = fittingOf(fact, timeZone);
    return fitting.from < end && (fitting.to === null || end <= fitting.to);
  });
  const tag = (await tx.handles.all('unit')).get(unitId);
  if (!found) return refuse(`${tag} was on no bike at ${at}.`);
  const fact = await tx.facts.replace(found.id, {
    kind: 'fitting',
    body: { ...found.body, to: at },
    ...entry,
  });
  await recountUnit(tx, unitId, entry.at);
  return fact.id;
}

/** Swaps two units that are on bikes at the moment, both or neither. Returns the ids of the new fittings. */
export async function swapUnits(
  tx: Tx,
  unitIds: readonly [string, string],
  at: Moment,
  entry: Entry,
): Promise<string[]> {
  const { timeZone } = await getWorkshop(tx);
  const when = readMoment(at, timeZone);
  const tags = await tx.handles.all('unit');
  const bikeIds: (string | null)[] = [];
  for (const unitId of unitIds) {
    const fittings = (await tx.facts.list('fitting', { subject: unitId })).map((fact) =>
      fittingOf(fact, timeZone),
    );
    const on = fittings.find((one) => one.from <= when && (one.to === null || when < one.to));
    if (on?.to != null) refuse(`The fitting of ${tags.get(unitId)} ends at ${isoTime(on.to)} already.`);
    bikeIds.push(on?.bikeId ?? null);
  }
  if (bikeIds[0] === null && bikeIds[1] === null) refuse('Neither of the two units is on a bike then.');
  for (const [i, unitId] of unitIds.entries())
    if (bikeIds[i] !== null) await endFitting(tx, unitId, at, entry);
  const made: string[] = [];
  for (const [unitId, bikeId] of [
    [unitIds[0], bikeIds[1]],
    [unitIds[1], bikeIds[0]],
  ] as const) {
    if (bikeId != null) made.push(await addFitting(tx, { unitId, bikeId, from: at, to: null }, entry));
  }
  return made;
}
