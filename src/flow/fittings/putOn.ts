/** A unit goes on a bike, and whatever stands in its way then comes off. */
import type { Tx } from '../../ports/store.js';
import type { Day, Moment } from '../../units.js';
import type { Entry } from '../entry.js';
import { replaceFact, voidFact } from '../facts/changeFact.js';
import { follow, nothingTouched } from '../facts/touched.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { placeOf } from './checkFitting.js';
import { addFitting, endBefore, firstSaid, refuseMarked } from './fittings.js';
import { type FittingOn, listFittings, listFittingsOn, readMoment, tagOf } from './unitFittings.js';

/** Which unit goes on which bike, and when. */
export interface Put {
  readonly unitId: string;
  readonly bikeId: string;
  readonly at: Moment;
  /** On loan until a day; left out: to stay. */
  readonly loanUntil?: Day | undefined;
}

/** Returns what was on the place that a unit takes, and the unit itself where it was. */
async function listAround(
  tx: Tx,
  { unitId, bikeId }: Pick<Put, 'unitId' | 'bikeId'>,
  zone: string,
): Promise<FittingOn[]> {
  const place = await placeOfUnit(tx, unitId);
  const around = await listFittings(tx, unitId, zone);
  for (const one of await listFittingsOn(tx, bikeId, zone)) {
    const other = one.fact.body.unitId;
    if (other !== unitId && (await placeOfUnit(tx, other)) === place) around.push(one);
  }
  return around;
}

async function placeOfUnit(tx: Tx, unitId: string): Promise<ReturnType<typeof placeOf> | null> {
  const unit = await tx.facts.current('unit', unitId);
  return unit === undefined ? null : placeOf(unit.body.unitKind);
}

/**
 * Puts a unit on a bike: what is on it then comes off, and the unit leaves the bike that it is on. What was said of later
 * days stays. Returns the facts' ids. Errors: `refused` for one that is marked to be stopped, unless
 * somebody is sure, and where it is on that bike already.
 */
export async function putOn(
  tx: Tx,
  { unitId, bikeId, at, loanUntil }: Put,
  isSure: boolean,
  entry: Entry,
): Promise<string[]> {
  const { timeZone: zone } = await getWorkshop(tx);
  const when = readMoment(at, zone);
  if (!isSure) await refuseMarked(tx, unitId);
  const touched = nothingTouched();
  const ids: string[] = [];
  let said: Moment | null = null;
  for (const { fact, from, to } of await listAround(tx, { unitId, bikeId }, zone)) {
    const { body } = fact;
    const isThere = from <= when && (to === null || when < to);
    if (!isThere || (body.unitId === unitId && body.bikeId === bikeId)) continue;
    if (from === when) refuse('on-only-then', { tag: await tagOf(tx, body.unitId), fact: fact.id });
    // What comes in its place stays as long as it would have stayed.
    if (body.unitId !== unitId) said = body.to;
    const ended = { ...body, to: at };
    ids.push((await replaceFact(tx, fact.id, { kind: 'fitting', body: ended }, entry, touched)).id);
  }
  const to = await firstSaid(tx, { unitId, bikeId, from: at, to: said }, zone);
  ids.push(
    await addFitting(tx, { unitId, bikeId, from: at, to, ...(loanUntil && { loanUntil }) }, entry, touched),
  );
  await follow(tx, touched, entry.at);
  return ids;
}

/** Takes it back: each is where it was. Errors: `refused` where the unit was not put on that bike then. */
export async function takeOffAgain(
  tx: Tx,
  { unitId, bikeId, at }: Put,
  entry: Entry & { readonly why: string },
): Promise<void> {
  const { timeZone: zone } = await getWorkshop(tx);
  const when = readMoment(at, zone);
  const around = await listAround(tx, { unitId, bikeId }, zone);
  const begun = around.find(
    ({ fact: { body }, from }) => body.unitId === unitId && body.bikeId === bikeId && from === when,
  );
  if (begun === undefined) return refuse('no-swap');
  const touched = nothingTouched();
  await voidFact(tx, begun.fact.id, entry.why, entry, touched);
  for (const { fact } of around.filter(({ to }) => to === when)) {
    const body = { ...fact.body, to: await endBefore(tx, fact, begun.fact.body.to) };
    await replaceFact(tx, fact.id, { kind: 'fitting', body }, entry, touched);
  }
  await follow(tx, touched, entry.at);
}
