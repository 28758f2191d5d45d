import type { SensorConfirmation } from '../core/rides/attribution.js';
import type { RecorderUse } from '../core/rides/recorder.js';
import type { Ride } from '../core/rides/ride.js';
import type { OwnPlace } from '../core/rides/settle.js';
import type { FileWay } from '../core/tokens.js';
import type { Day, Instant, Seconds } from '../units.js';

/** A ride as stored: derived from readings or, with source `hand`, from hours that somebody entered. */
export interface RideRow extends Ride {
  readonly source: 'recorded' | 'hand';
  /** Day of its start in the workshop's zone. */
  readonly day: Day | null;
}

/** Where one reading went, and whose and when it is by itself. */
export interface RidePart extends OwnPlace {
  readonly readingId: string;
  readonly rideId: string;
  /** The bike that a person named for it. */
  readonly namedBikeId: string | null;
  /** The name of the profile that was chosen on the recorder. */
  readonly profile: string | null;
  /** Its recorder's serial number under a key. */
  readonly recorder: string | null;
  /** The rider whom a person named for it. */
  readonly namedRiderId: string | null;
}

/** When a recording began and first came, and by which way; null where an earlier program took it. */
export interface CameBy {
  readonly start: Instant;
  readonly came: Instant;
  readonly way: FileWay | null;
}

/** What a ride gives to the hours. */
export type RideHoursRow = Pick<RideRow, 'id' | 'source' | 'bikeId' | 'start' | 'movingS' | 'groundMs'>;

/** Where a list of rides goes on: by their start, those without one first, and then by their id. */
export interface RideKey {
  readonly start: Instant | null;
  readonly id: string;
}

/** Rides that wait for a person's word. */
export interface AskingTable {
  listAsking(): Promise<readonly RideRow[]>;
  /** At most so many in their order, from one on or from the first. */
  listAskingFrom(from: RideKey | null, most: number): Promise<readonly RideRow[]>;
  /** Those that ask for their bike, at most so many. */
  listAskingForBike(most: number): Promise<readonly (RideKey & { readonly riderId: string | null })[]>;
  /** Under which name a ride's file first came, by ride. */
  firstNames(rideIds: readonly string[]): Promise<ReadonlyMap<string, string>>;
  listAskingOfRider(riderId: string): Promise<readonly RideRow[]>;
  /** The moving time that waits: by bike, and by rider what has no bike yet. */
  sumAsking(of: { readonly bikeIds: readonly string[]; readonly riderIds: readonly string[] }): Promise<{
    readonly ofBike: ReadonlyMap<string, Seconds>;
    readonly ofRider: ReadonlyMap<string, Seconds>;
  }>;
  countAsking(): Promise<number>;
  /** Riders, or the one named, all of whose rides that ask for their bike first came since a moment. */
  listSettling(since: Instant, riderId?: string): Promise<ReadonlySet<string>>;
  /** Of those that are, or were handed over as, ridden on these bikes: how many by bike; none where it has none. */
  countAskingOn(bikeIds: readonly string[]): Promise<ReadonlyMap<string, number>>;
}

export interface RideTable extends AskingTable {
  find(id: string): Promise<RideRow | undefined>;
  /** The recorded rides that hold any of these readings. */
  listOfReadings(readingIds: readonly string[]): Promise<readonly RideRow[]>;
  /** The readings that by themselves are this rider's or on this bike, and touch the window. */
  listNear(
    whose: { readonly riderId: string | null; readonly bikeId: string | null },
    from: Instant,
    to: Instant,
  ): Promise<readonly string[]>;
  /** Rides that count, on a bike, in order of start. */
  listCounted(bikeId: string, from?: Instant): Promise<readonly RideRow[]>;
  /** The same in a fraction of the time and memory, with what is needed to count hours. */
  listCountedHours(bikeId: string, from?: Instant, until?: Instant): Promise<readonly RideHoursRow[]>;
  /** The latest that count on a bike and started in a time, newest first. */
  listLatestCounted(
    bikeId: string,
    of: { readonly from: Instant; readonly until: Instant; readonly most: number },
  ): Promise<readonly RideRow[]>;
  /** When the first recorded ride that counts on a bike began, of those by a moment; null where there is none. */
  firstRecordedStart(bikeId: string, by: Instant): Promise<Instant | null>;
  listLatestOfRider(riderId: string, most: number): Promise<readonly RideRow[]>;
  /** When the latest counted ones began, the last first. */
  listLatestStartsOfRider(riderId: string, most: number): Promise<readonly Instant[]>;
  lastStartOfRider(riderId: string): Promise<Instant | null>;
  /** When the latest recordings of a rider, or on a bike, that came by a moment began and first came; newest first. */
  listHandedOver(
    of: { readonly riderId: string } | { readonly bikeId: string },
    by: Instant,
    most: number,
  ): Promise<readonly { readonly start: Instant; readonly came: Instant }[]>;
  /** Of a rider's latest recordings when each began and first came, and by which way; newest first. */
  listWays(riderId: string, most: number): Promise<readonly CameBy[]>;
  /** The rides of a rider of which any recording was handed over since a moment. */
  listCame(riderId: string, since: Instant): Promise<readonly RideRow[]>;
  /** The recorded rides of these riders or on these bikes, whenever they were. */
  listOf(whose: {
    readonly riderIds: readonly string[];
    readonly bikeIds: readonly string[];
  }): Promise<readonly RideRow[]>;
  /** All rides in order of id, at most so many after the one named. */
  page(afterId: string, most: number): Promise<readonly RideRow[]>;
  listIds(): Promise<readonly string[]>;
  /** Those of several recordings, in order of id. */
  listIdsOfSeveral(): Promise<readonly string[]>;
  /** The texts that recorded rides which hold any of these readings are stored as, by ride. */
  listTexts(readingIds: readonly string[]): Promise<ReadonlyMap<string, string>>;
  put(rides: readonly RideRow[], parts?: readonly RidePart[]): Promise<void>;
  /** Rides that are there, of which only what they weigh or their day is other than before. */
  reweigh(rides: readonly RideRow[]): Promise<void>;
  /** Where these readings went; all of them where none are named. */
  listParts(readingIds?: readonly string[]): Promise<readonly RidePart[]>;
  /** The readings that carry a sensor and whose bike a person named, as settled. */
  listConfirmations(
    sensorIds: readonly string[],
  ): Promise<readonly (SensorConfirmation & { readonly sensorId: string })[]>;
  /** The readings that carry a sensor and whose bike nobody named, as settled. */
  listCarrying(
    sensorIds: readonly string[],
  ): Promise<readonly { readonly readingId: string; readonly start: Instant; readonly sensorId: string }[]>;
  /** Where the recordings of a rider went that carry a profile of that name and have a time. */
  listOfProfile(riderId: string, profile: string): Promise<readonly RidePart[]>;
  /** By recorder a line for each rider whom somebody named with it. */
  listRecorderUses(recorders: readonly string[]): Promise<ReadonlyMap<string, readonly RecorderUse[]>>;
  /** Recordings of a recorder of which nobody said whose they are, and that have a time. */
  listUnnamedOfRecorder(
    recorder: string,
  ): Promise<readonly { readonly readingId: string; readonly start: Instant }[]>;
  remove(ids: readonly string[]): Promise<void>;
}
