/** What was looked at on a unit after a crash or because nobody knows its history, and what follows from it. */
import type { Fact, InspectionFact, UnitFact } from '../../core/ledger/facts.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import { changeThing } from '../counter/changeThings.js';
import type { Entry } from '../entry.js';
import { getIdOf } from '../names.js';
import { addFact } from './changeFact.js';
import { markUnit } from './enterFacts.js';

/** What the page of an inspection shows. */
export interface InspectPage {
  readonly unit: Fact<'unit'>;
  /** The crash mark in force. */
  readonly mark: Fact<'mark'> | null;
  /** The newest first. */
  readonly earlier: readonly Fact<'inspection'>[];
}

/** Errors: `not-found`. */
export async function getInspectPage(tx: Tx, tag: string): Promise<InspectPage> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const mark = (await tx.facts.list('mark', { subject: unitId })).at(-1);
  return {
    unit: (await tx.facts.current('unit', unitId))!,
    mark: mark?.body.stop ? mark : null,
    earlier: [...(await tx.facts.list('inspection', { subject: unitId }))].reverse(),
  };
}

/** What the sheet of one inspection shows. */
export interface InspectionSheet {
  readonly unit: Fact<'unit'>;
  /** Null where the line tells of something else. */
  readonly inspection: Fact<'inspection'> | null;
}

/** Errors: `not-found` for what is no line of this unit's book. */
export async function getInspectionSheet(tx: Tx, tag: string, factId: string): Promise<InspectionSheet> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const fact = await tx.facts.find(factId);
  const unit = (await tx.facts.current('unit', unitId))!;
  if (fact?.kind !== 'inspection') return { unit, inspection: null };
  const inspection = fact as Fact<'inspection'>;
  if (inspection.body.unitId !== unitId)
    throw new ServiceError('not-found', 'There is no such line in the book of this unit.');
  return { unit, inspection };
}

/**
 * Keeps what was looked at after a crash. With the result *ride* the crash mark ends; with any other a unit without one
 * gets it. Returns whether a mark was cleared.
 * Errors: `refused` where it is said to be ridden and something was not looked at, or does harm.
 */
export async function lookAfterCrash(
  tx: Tx,
  inspection: InspectionFact,
  why: string,
  entry: Entry,
): Promise<boolean> {
  const { unitId, result } = inspection;
  await addFact(tx, { kind: 'inspection', body: inspection }, entry);
  const isMarked = (await tx.facts.list('mark', { subject: unitId })).at(-1)?.body.stop === true;
  const mayRide = result === 'ride';
  if (isMarked === mayRide) await markUnit(tx, unitId, !mayRide, why, entry);
  return isMarked && mayRide;
}

/** The hours from which an unknown history counts on, and the fact about the unit that somebody saw. */
export interface HoursFrom {
  readonly terrainHours: number;
  readonly movingHours: number;
  readonly factId: string | undefined;
}

/** Keeps what was seen on a unit; with hours its history is known from that day on. Errors: as of `changeThing`. */
export async function inspectHistory(
  tx: Tx,
  inspection: InspectionFact,
  from: HoursFrom | null,
  entry: Entry,
): Promise<void> {
  const { unitId, on: asOf } = inspection;
  await addFact(tx, { kind: 'inspection', body: inspection }, entry);
  if (from === null) return;
  const { factId, ...hours } = from;
  const words: Partial<UnitFact> = { history: { ...hours, asOf } };
  await changeThing(tx, { kind: 'unit', entityId: unitId, factId, words }, entry);
}
