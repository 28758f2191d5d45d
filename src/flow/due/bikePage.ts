import type { Fact, UnrecordedFact } from '../../core/ledger/facts.js';
import type { Hours } from '../../core/ledger/hours.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import type { HourSource } from '../../core/tokens.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant } from '../../units.js';
import { getBikeFact } from '../names.js';
import { type BikeDeclared, getDeclared } from '../own/declare.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';
import { getBikeHours } from './bikeHours.js';

const RIDES_SHOWN = 15;

/** What a bike's page shows. */
export interface BikePage {
  readonly fact: Fact<'bike'>;
  readonly rider: string | null;
  readonly riderHandle: string | null;
  readonly fleets: readonly { readonly id: string; readonly handle: string; readonly name: string }[];
  /** Of the units that are on it now. */
  readonly tags: readonly string[];
  readonly hours: Readonly<Record<HourSource, Hours>>;
  readonly shares: readonly UnrecordedFact[];
  readonly declared: BikeDeclared;
  /** The latest, newest first. */
  readonly rides: readonly RideRow[];
  /** How many rides said to be on it wait for a person's word. */
  readonly waiting: number;
}

/** Errors: `not-found`. */
export async function getBikePage(tx: Tx, handle: string, now: Instant): Promise<BikePage> {
  const { timeZone } = await getWorkshop(tx);
  const fact = await getBikeFact(tx, handle);
  const { entityId: bikeId } = fact;
  const { riderId } = fact.body;
  const unitIds = (await tx.facts.list('fitting', { object: bikeId }))
    .map((one) => fittingOf(one, timeZone))
    .filter((one) => fittingNow([one], now))
    .map((one) => one.unitId);
  const tags = await tx.handles.listOf('unit', unitIds);
  const until = instant(now + 1);
  return {
    fact,
    rider: riderId === null ? null : ((await tx.contacts.find(riderId))?.name ?? null),
    riderHandle:
      riderId === null ? null : ((await tx.handles.listOf('rider', [riderId])).get(riderId) ?? null),
    fleets: (await tx.facts.list('fleet')).map(({ entityId: id, body }) => ({ id, ...body })),
    tags: unitIds.map((unitId) => tags.get(unitId) ?? ''),
    hours: await getBikeHours(tx, bikeId, now),
    shares: (await tx.facts.list('unrecorded', { subject: bikeId })).map(({ body }) => body),
    declared: await getDeclared(tx, bikeId, now),
    rides: await tx.rides.listLatestCounted(bikeId, { from: instant(0), until, most: RIDES_SHOWN }),
    waiting: (await tx.rides.countAskingOn([bikeId])).get(bikeId) ?? 0,
  };
}
