import { addDays } from '../core/calendar.js';
import type { Fact, FittingFact, Moment } from '../core/facts.js';
import type { Tx } from '../ports.js';
import { type Day, type Instant, isoTime } from '../units.js';
import { addFact, replaceFact } from './changeFact.js';
import { placeOf, readMoment } from './checkFitting.js';
import type { Entry } from './entry.js';
import { refuse } from './refuse.js';
import { getWorkshop } from './settings.js';
import { follow, nothingTouched, type Touched } from './touched.js';
import { fittingOf } from './unitLedger.js';

export type { Entry } from './entry.js';

/** The day's start, or the moment after its last ride: a ride goes whole to what was fitted at its start. */
export const afterLastRideOf = (day: Day): Moment => addDays(day, 1);

/** Adds a fitting; the rides of its time move to the unit. Returns the fact's id. */
export const addFitting = async (
  tx: Tx,
  body: FittingFact,
  entry: Entry,
  touched?: Touched,
): Promise<string> => (await addFact(tx, { kind: 'fitting', body }, entry, touched)).id;

interface FittingOn {
  readonly fact: Fact<'fitting'>;
  readonly from: Instant;
  readonly to: Instant | null;
}

/** The fitting of a unit that a moment lies in, its end included where `atEnd` asks for it. */
async function findOn(
  tx: Tx,
  unitId: string,
  at: Instant,
  zone: string,
  atEnd = false,
): Promise<FittingOn | undefined> {
  const facts = await tx.facts.list('fitting', { subject: unitId });
  return facts
    .map((fact) => ({ fact, from: fittingOf(fact, zone).from, to: fittingOf(fact, zone).to }))
    .find(({ from, to }) =>
      atEnd ? from < at && (to === null || at <= to) : from <= at && (to === null || at < to),
    );
}

const tagOf = async (tx: Tx, unitId: string): Promise<string> =>
  (await tx.facts.current('unit', unitId))?.body.tag ?? 'The unit';

/** Ends the fitting that is on at the moment. Returns the new fact's id. */
export async function endFitting(
  tx: Tx,
  unitId: string,
  at: Moment,
  entry: Entry,
  touched?: Touched,
): Promise<string> {
  const { timeZone } = await getWorkshop(tx);
  const on = await findOn(tx, unitId, readMoment(at, timeZone), timeZone, true);
  if (!on) return refuse('on-no-bike', { tag: await tagOf(tx, unitId), at });
  const body = { ...on.fact.body, to: at };
  return (await replaceFact(tx, on.fact.id, { kind: 'fitting', body }, entry, touched)).id;
}

async function checkPlaces(tx: Tx, [one, other]: readonly [string, string]): Promise<void> {
  if (one === other) refuse('swap-itself');
  const units = [await tx.facts.current('unit', one), await tx.facts.current('unit', other)];
  const [a, b] = units.map((unit) => unit && { tag: unit.body.tag, place: placeOf(unit.body.unitKind) });
  if (a && b && a.place !== b.place)
    refuse('other-places', { a: a.tag, placeOfA: a.place, b: b.tag, placeOfB: b.place });
}

/** Swaps two units at a moment, both or neither; one may lie in its box. Returns the ids of the new facts. */
export async function swapUnits(
  tx: Tx,
  unitIds: readonly [string, string],
  at: Moment,
  entry: Entry,
): Promise<string[]> {
  const { timeZone } = await getWorkshop(tx);
  const when = readMoment(at, timeZone);
  await checkPlaces(tx, unitIds);
  const [one, other] = [
    await findOn(tx, unitIds[0], when, timeZone),
    await findOn(tx, unitIds[1], when, timeZone),
  ];
  if (!one && !other) refuse('neither-on');
  const touched = nothingTouched();
  const ids: string[] = [];
  for (const on of [one, other]) {
    if (!on) continue;
    const tag = await tagOf(tx, on.fact.body.unitId);
    if (on.to !== null) refuse('ends-already', { tag, at: isoTime(on.to) });
    if (on.from === when) refuse('on-only-then', { tag, fact: on.fact.id });
    ids.push(await endFitting(tx, on.fact.body.unitId, at, entry, touched));
  }
  for (const [unitId, on] of [
    [unitIds[0], other],
    [unitIds[1], one],
  ] as const) {
    if (!on) continue;
    const body = { unitId, bikeId: on.fact.body.bikeId, from: at, to: null };
    ids.push(await addFitting(tx, body, entry, touched));
  }
  await follow(tx, touched, entry.at);
  return ids;
}
