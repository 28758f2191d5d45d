import type { Fact, FittingFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant, Moment } from '../../units.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact, voidFact } from '../facts/changeFact.js';
import { follow, nothingTouched, type Touched } from '../facts/touched.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { placeOf } from './checkFitting.js';
import { type FittingOn, listFittings, listFittingsOn, readMoment, tagOf } from './unitFittings.js';

export type { Entry } from '../entry.js';

/** Adds a fitting; the rides of its time move to the unit. Returns the fact's id. */
export const addFitting = async (
  tx: Tx,
  body: FittingFact,
  entry: Entry,
  touched?: Touched,
): Promise<string> => (await addFact(tx, { kind: 'fitting', body }, entry, touched)).id;

/**
 * Puts a unit on a bike, where nothing else is, until the moment from which on something else was said. Returns the
 * fact's id. Errors: `refused` for one that is marked to be stopped, unless somebody is sure.
 */
export async function fitUnit(tx: Tx, body: FittingFact, isSure: boolean, entry: Entry): Promise<string> {
  if (!isSure) await refuseMarked(tx, body.unitId);
  const { timeZone } = await getWorkshop(tx);
  return addFitting(tx, { ...body, to: await firstSaid(tx, body, timeZone) }, entry);
}

export async function refuseMarked(tx: Tx, unitId: string): Promise<void> {
  const mark = (await tx.facts.list('mark', { subject: unitId })).at(-1)?.body;
  if (mark?.stop) refuse('is-marked', { tag: await tagOf(tx, unitId), why: mark.why });
}

/** The fitting of a unit that a moment lies in, its end included where `atEnd` asks for it. */
async function findOn(
  tx: Tx,
  unitId: string,
  at: Instant,
  zone: string,
  atEnd = false,
): Promise<FittingOn | undefined> {
  return (await listFittings(tx, unitId, zone)).find(({ from, to }) =>
    atEnd ? from < at && (to === null || at <= to) : from <= at && (to === null || at < to),
  );
}

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

/** Facts that were made, and whether they take an earlier swap back. */
interface Swapped {
  readonly ids: readonly string[];
  readonly isBack: boolean;
}

/**
 * Swaps two units at a moment, both or neither; one may lie in its box. The same two at the same moment once more are
 * a mistake put right: the swap is taken back, and each is where it was.
 */
export async function swapUnits(
  tx: Tx,
  unitIds: readonly [string, string],
  at: Moment,
  entry: Entry,
  {
    backWhy = 'swap taken back',
    isSure = false,
  }: { readonly backWhy?: string; readonly isSure?: boolean } = {},
): Promise<Swapped> {
  const { timeZone } = await getWorkshop(tx);
  const when = readMoment(at, timeZone);
  await checkPlaces(tx, unitIds);
  const touched = nothingTouched();
  const then = { at, when, zone: timeZone };
  const back = await takeSwapBack(tx, unitIds, then, { ...entry, why: backWhy }, touched);
  const ids = back ?? (await trade(tx, unitIds, { ...then, isSure }, entry, touched));
  await follow(tx, touched, entry.at);
  return { ids, isBack: back !== null };
}

/** Takes a swap back: each is where it was. Returns the facts' ids. Errors: `refused` where the two were not swapped then. */
export async function swapBack(
  tx: Tx,
  unitIds: readonly [string, string],
  at: Moment,
  entry: Entry & { readonly why: string },
): Promise<readonly string[]> {
  const { timeZone: zone } = await getWorkshop(tx);
  const touched = nothingTouched();
  const ids = await takeSwapBack(tx, unitIds, { at, when: readMoment(at, zone), zone }, entry, touched);
  if (ids === null) return refuse('no-swap');
  await follow(tx, touched, entry.at);
  return ids;
}

interface Then {
  readonly at: Moment;
  readonly when: Instant;
  readonly zone: string;
}

async function trade(
  tx: Tx,
  unitIds: readonly [string, string],
  { at, when, zone, isSure }: Then & { readonly isSure: boolean },
  entry: Entry,
  touched: Touched,
): Promise<string[]> {
  const [one, other] = [await findOn(tx, unitIds[0], when, zone), await findOn(tx, unitIds[1], when, zone)];
  if (!one && !other) refuse('neither-on');
  const ids: string[] = [];
  for (const on of [one, other]) {
    if (!on) continue;
    if (on.from === when)
      refuse('on-only-then', { tag: await tagOf(tx, on.fact.body.unitId), fact: on.fact.id });
    const body = { ...on.fact.body, to: at };
    ids.push((await replaceFact(tx, on.fact.id, { kind: 'fitting', body }, entry, touched)).id);
  }
  for (const [unitId, on] of [
    [unitIds[0], other],
    [unitIds[1], one],
  ] as const) {
    if (!on) continue;
    if (!isSure) await refuseMarked(tx, unitId);
    const { bikeId, to } = on.fact.body;
    const until = await firstSaid(tx, { unitId, bikeId, from: at, to }, zone);
    ids.push(await addFitting(tx, { unitId, bikeId, from: at, to: until }, entry, touched));
  }
  return ids;
}

/**
 * Returns when a unit that goes on a bike comes off again by what was said of later days already: of the bike, which
 * takes off whatever is on it then, or of the unit itself.
 */
export async function firstSaid(
  tx: Tx,
  { unitId, bikeId, from, to }: FittingFact,
  zone: string,
): Promise<Moment | null> {
  const at = readMoment(from, zone);
  const unitKind = (await tx.facts.current('unit', unitId))?.body.unitKind;
  const later = (await listFittings(tx, unitId, zone)).filter((one) => one.from > at);
  for (const one of await listFittingsOn(tx, bikeId, zone)) {
    const other = (await tx.facts.current('unit', one.fact.body.unitId))?.body.unitKind;
    if (one.from > at && other && unitKind && placeOf(other) === placeOf(unitKind)) later.push(one);
  }
  return later
    .map(({ fact }) => fact.body.from)
    .concat(to === null ? [] : [to])
    .reduce<Moment | null>(
      (first, one) => (first === null || readMoment(one, zone) < readMoment(first, zone) ? one : first),
      null,
    );
}

/** Returns the ids of the facts that put all back as it was, or null where the two were not swapped at that moment. */
async function takeSwapBack(
  tx: Tx,
  [one, other]: readonly [string, string],
  { when, zone }: Then,
  entry: Entry & { readonly why: string },
  touched: Touched,
): Promise<string[] | null> {
  const fittings = [...(await listFittings(tx, one, zone)), ...(await listFittings(tx, other, zone))];
  const begun = fittings.filter(({ from }) => from === when);
  const ended = fittings.filter(({ to }) => to === when);
  const follower = ({ fact: { body } }: FittingOn): FittingOn | undefined =>
    begun.find(({ fact: { body: of } }) => of.bikeId === body.bikeId && of.unitId !== body.unitId);
  const areAll = begun.length === ended.length && ended.every(follower);
  if (begun.length === 0 || !areAll) return null;
  const ids: string[] = [];
  for (const { fact } of begun) ids.push((await voidFact(tx, fact.id, entry.why, entry, touched)).id);
  for (const on of ended) {
    const { fact } = on;
    const body = { ...fact.body, to: await endBefore(tx, fact, follower(on)!.fact.body.to) };
    ids.push((await replaceFact(tx, fact.id, { kind: 'fitting', body }, entry, touched)).id);
  }
  return ids;
}

/** When a fitting ended before it was cut short: as it was said then, else when what took its place does. */
export async function endBefore(
  tx: Tx,
  fact: Fact<'fitting'>,
  otherwise: Moment | null,
): Promise<Moment | null> {
  const former = fact.replacesId === null ? undefined : await tx.facts.find(fact.replacesId);
  const before = former?.isVoid === false ? (former as Fact<'fitting'>).body : null;
  return before !== null && before.from === fact.body.from && before.to !== fact.body.to
    ? before.to
    : otherwise;
}
