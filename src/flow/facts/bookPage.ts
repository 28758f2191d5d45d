import type { Fact, FactBodies } from '../../core/ledger/facts.js';
import { fittingNow, type Unit } from '../../core/ledger/ledger.js';
import type { AddedServiceKind } from '../../core/ledger/serviceKinds.js';
import { naturalOrder } from '../../core/naturalOrder.js';
import { ServiceError } from '../../errors.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listPeriodHours, type PeriodHours } from '../due/periodHours.js';
import { listAlong } from '../fittings/moveFitting.js';
import { getIdOf } from '../names.js';
import { listPhotos, type ShownPhoto } from '../photos/photos.js';
import { getWorkshop, listAddedKinds } from '../settings.js';
import { getUnit, getUnitLedger } from '../unitLedger.js';
import { listUnitStory, type StoryLine } from './unitStory.js';

/** Name by handle, of the bikes that a book speaks of. */
export type BikeNames = ReadonlyMap<string, string>;

/** What a unit's book shows. */
export interface BookPage {
  readonly fact: Fact<'unit'>;
  readonly bike: string | null;
  readonly rider: string | null;
  readonly story: readonly StoryLine[];
  readonly bikes: BikeNames;
  readonly periods: readonly PeriodHours[];
  readonly standings: readonly StandingRow[];
  readonly photos: readonly ShownPhoto[];
}

/** Errors: `not-found`. */
export async function getBookPage(tx: Tx, tag: string, now: Instant): Promise<BookPage> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const { timeZone } = await getWorkshop(tx);
  const ledger = await getUnitLedger(tx, unitId, timeZone);
  const bike = ledger.bikes.get(fittingNow(ledger.fittings, now)?.bikeId ?? '') ?? null;
  const riderId = bike?.riderId ?? null;
  const story = await listUnitStory(tx, unitId);
  return {
    fact: (await tx.facts.current('unit', unitId))!,
    bike: bike?.name ?? null,
    rider: riderId === null ? null : ((await tx.contacts.find(riderId))?.name ?? null),
    story,
    bikes: await bikeNamesIn(tx, story),
    periods: await listPeriodHours(tx, ledger, now),
    standings: await tx.standings.listOf(unitId),
    photos: await listPhotos(tx, unitId),
  };
}

/** What of a unit's book can be put right, and which of its days. */
const LINES = [
  'service',
  'fitting',
  'membership',
  'gone',
  'mark',
  'inspection',
  'bench',
  'job',
  'claim',
] as const;
export type LineFact = Fact<(typeof LINES)[number]>;

/** What the page shows on which a line of a unit's book is put right. */
export interface LinePage {
  readonly fact: LineFact;
  readonly unit: Unit;
  /** Of which jobs there may be. */
  readonly addedKinds: readonly AddedServiceKind[];
  /** The line with what it replaced. */
  readonly story: readonly StoryLine[];
  readonly bikes: BikeNames;
  /** Tags of other units that went on or came off by the same act. */
  readonly along: readonly string[];
}

/** Errors: `not-found` for what is no line of this unit's book. */
export async function getLinePage(tx: Tx, tag: string, factId: string): Promise<LinePage> {
  const fact = await getLine(tx, tag, factId);
  const story = (await listUnitStory(tx, fact.body.unitId)).filter((line) => line.fact === factId);
  const unit = await getUnit(tx, fact.body.unitId);
  const along = fact.kind === 'fitting' ? await tagsAlong(tx, fact as Fact<'fitting'>) : [];
  return {
    fact,
    unit,
    addedKinds: await listAddedKinds(tx),
    story,
    bikes: await bikeNamesIn(tx, story),
    along,
  };
}

/** Errors: `not-found` for what is no line of this unit's book. */
export async function getLine(tx: Tx, tag: string, factId: string): Promise<LineFact> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const fact = await tx.facts.find(factId);
  const isLine = fact && LINES.some((kind) => kind === fact.kind);
  if (!isLine || (fact.body as FactBodies[(typeof LINES)[number]]).unitId !== unitId)
    throw new ServiceError('not-found', 'There is no such line in the book of this unit.');
  return fact as LineFact;
}

async function tagsAlong(tx: Tx, fact: Fact<'fitting'>): Promise<string[]> {
  const unitIds = [...new Set([...(await listAlong(tx, fact)).values()].flat())];
  return [...(await tx.handles.listOf('unit', unitIds)).values()].sort(naturalOrder);
}

async function bikeNamesIn(tx: Tx, story: readonly StoryLine[]): Promise<BikeNames> {
  const names = new Map<string, string>();
  for (const handle of new Set(story.flatMap((line) => (line.kind === 'fitting' ? [line.row.bike] : [])))) {
    const bikeId = await tx.handles.find('bike', handle);
    const bike = bikeId === undefined ? undefined : await tx.facts.current('bike', bikeId);
    if (bike) names.set(handle, bike.body.name);
  }
  return names;
}
