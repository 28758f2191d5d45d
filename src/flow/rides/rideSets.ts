/** The rides of one rider that ask for their bike, told together: by profile, kind of riding, and sensor. */
import { groupBy } from '../../core/groupBy.js';
import type { BikeKnowledge } from '../../core/rides/attribution.js';
import { likelyBike } from '../../core/rides/likelyBike.js';
import type { Part } from '../../core/rides/ride.js';
import { profileOf } from '../../core/rides/settle.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Day, type Seconds, seconds } from '../../units.js';
import type { Entry } from '../entry.js';
import { bikeSensorsOf, gatherBikes, listParts } from './bikeKnowledge.js';
import { listAskingOf } from './listTray.js';
import { isBikeOf } from './moveRide.js';
import { settleReadings } from './settleReadings.js';

/** Rides that are likely of one bike. */
export interface RideSet {
  /** The same for the same rides, also after others came. */
  readonly key: string;
  readonly profile: string | null;
  readonly subSport: string | null;
  /** They carry one sensor, and rides that are alike otherwise do not. */
  readonly bySensor: boolean;
  readonly rides: readonly RideOfSet[];
  readonly movingS: Seconds;
  /** The bike that they look like; null where nothing tells it. */
  readonly likely: string | null;
}

export interface RideOfSet {
  readonly id: string;
  readonly day: Day;
  readonly movingS: Seconds;
}

/** So many sets are told apart; what is left over is one. */
const MOST_SETS = 6;
/** Fewer rides with a sensor are no set of their own. */
const LEAST_BY_SENSOR = 2;

interface AskedRide {
  readonly ride: RideRow;
  readonly part: Part;
}

/** Returns the rides of a rider that ask for nothing but their bike, the largest set first. */
export async function listRideSets(tx: Tx, riderId: string): Promise<RideSet[]> {
  const asked = await listAsked(tx, riderId);
  if (asked.length === 0) return [];
  const known = await gatherBikes(tx, [asked[0]!.part]);
  const alike = groupBy(asked, ({ ride, part }) => JSON.stringify([profileOf(part.reading), ride.subSport]));
  const sets = [...alike.values()].flatMap(bySensor).sort((a, b) => b.rides.length - a.rides.length);
  const rest = sets.slice(MOST_SETS - 1).flatMap((set) => set.rides);
  const shown = sets.length <= MOST_SETS ? sets : [...sets.slice(0, MOST_SETS - 1), { key: '', rides: rest }];
  return shown.map((set) => setOf(set, known, riderId));
}

async function listAsked(tx: Tx, riderId: string): Promise<AskedRide[]> {
  const rides = (await listAskingOf(tx, riderId)).filter(
    ({ question, start }) => question === 'which-bike' && start !== null,
  );
  const parts = new Map(
    (
      await listParts(
        tx,
        rides.flatMap(({ readingIds }) => readingIds),
      )
    ).map((part) => [part.readingId, part]),
  );
  // Where two bikes were named, the ride is asked about by itself.
  const isNamed = ({ readingIds }: RideRow): boolean =>
    readingIds.some((id) => parts.get(id)!.named.some(({ bikeId }) => bikeId !== null));
  return rides.filter((ride) => !isNamed(ride)).map((ride) => ({ ride, part: parts.get(ride.id)! }));
}

interface Alike {
  readonly key: string;
  readonly rides: readonly AskedRide[];
  readonly isBySensor?: boolean;
}

/** Rides that are alike are told apart by sensors where these are of several bikes. */
function bySensor(rides: readonly AskedRide[]): Alike[] {
  const [{ ride, part }] = rides as readonly [AskedRide, ...AskedRide[]];
  const key = JSON.stringify([profileOf(part.reading), ride.subSport]);
  const sensorOf = (one: AskedRide): string => bikeSensorsOf(one.part.reading).sort()[0] ?? '';
  const groups = [...groupBy(rides, sensorOf)].filter(
    ([id, own]) => id !== '' && own.length >= LEAST_BY_SENSOR,
  );
  if (groups.length < 2) return [{ key, rides }];
  const told = new Set(groups.flatMap(([, own]) => own));
  const others = rides.filter((one) => !told.has(one));
  return [
    ...groups.map(([id, own]) => ({ key: `${key} ${id}`, rides: own, isBySensor: true })),
    ...(others.length === 0 ? [] : [{ key, rides: others }]),
  ];
}

function setOf({ key, rides, isBySensor = false }: Alike, known: BikeKnowledge, riderId: string): RideSet {
  const [{ ride, part }] = rides as readonly [AskedRide, ...AskedRide[]];
  const isMixed = key === '';
  const common = {
    profile: isMixed ? null : profileOf(part.reading),
    subSport: isMixed ? null : ride.subSport,
  };
  const all = rides.map((one) => one.ride);
  return {
    key,
    ...common,
    bySensor: isBySensor,
    rides: all.map(({ id, day, movingS }) => ({ id, day: day!, movingS })),
    movingS: seconds(all.reduce((sum, { movingS }) => sum + movingS, 0)),
    likely: likelyBike(
      {
        ...common,
        severities: all.filter(({ quality }) => quality !== null).map(({ severity }) => severity),
        starts: all.map(({ start }) => start!),
      },
      known.listBikesOf(riderId),
    ),
  };
}

/** What a rider says of a set: its bike, and another one for the rides of some days. Null is none of their bikes. */
export interface SetAnswer {
  readonly key: string;
  readonly bikeId: string | null;
  readonly except: { readonly from: Day; readonly to: Day; readonly bikeId: string | null } | null;
}

export interface SetsAnswered {
  /** Rides by bike; under null those that were on none of them. */
  readonly rides: ReadonlyMap<string | null, number>;
  /** What of these rides waits still, for another question. */
  readonly left: number;
}

/**
 * Puts the rides of each set where its answer says, in one transaction. Returns null where a bike is not the rider's or no
 * ride is meant.
 */
export async function answerSets(
  tx: Tx,
  riderId: string,
  answers: readonly SetAnswer[],
  entry: Entry,
): Promise<SetsAnswered | null> {
  for (const bikeId of answers.flatMap(({ bikeId, except }) => [bikeId, except?.bikeId ?? null]))
    if (bikeId !== null && !(await isBikeOf(tx, riderId, bikeId))) return null;
  const sets = new Map((await listRideSets(tx, riderId)).map((set) => [set.key, set]));
  const bikeOf = new Map<string, string | null>();
  for (const { key, bikeId, except } of answers)
    for (const { id, day } of sets.get(key)?.rides ?? []) {
      const isOther = except !== null && day >= except.from && day <= except.to;
      bikeOf.set(id, isOther ? except.bikeId : bikeId);
    }
  const readingIds: string[] = [];
  for (const id of bikeOf.keys()) {
    const ride = (await tx.rides.find(id))!;
    const bikeId = bikeOf.get(id)!;
    for (const readingId of ride.readingIds) {
      const said = bikeId === null ? { ride: { 'which-bike': false } } : { bikeId };
      await tx.facts.add({ kind: 'answer', body: { readingId, ...said }, ...entry });
      readingIds.push(readingId);
    }
  }
  if (readingIds.length === 0) return null;
  const settled = await settleReadings(tx, readingIds, entry.at);
  const rides = new Map<string | null, number>();
  for (const bikeId of bikeOf.values()) rides.set(bikeId, (rides.get(bikeId) ?? 0) + 1);
  return { rides, left: settled.filter(({ question, dismissed }) => question !== null && !dismissed).length };
}
