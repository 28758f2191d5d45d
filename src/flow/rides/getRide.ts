import type { Landings } from '../../core/ground/samples/landings.js';
import type { ProfilePoint, Reading } from '../../core/ground/samples/reading.js';
import { type ExplanationPart, explainWeight } from '../../core/ledger/explain.js';
import type { Fact } from '../../core/ledger/facts.js';
import { type Bike, fittingAt } from '../../core/ledger/ledger.js';
import { priorOf, type WeighedClass, weighedClasses } from '../../core/ledger/weight.js';
import { carriedSeconds, wasHelped } from '../../core/rides/climbWord.js';
import { joinRecordings, moved, recordedOf } from '../../core/rides/joinRecordings.js';
import { startOf } from '../../core/rides/settle.js';
import { ServiceError } from '../../errors.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Instant, Seconds } from '../../units.js';
import { getWeights, getWorkshop } from '../settings.js';
import { fittingOf, getBike } from '../unitLedger.js';
import { listParts } from './bikeKnowledge.js';

const PLACES = ['ground', 'joined', 'covered'] as const;

/** One recording of a ride. `place`: its ground stands for all, it adds moving time, or a sound one covers it. */
export interface RideRecording {
  readonly readingId: string;
  /** By how much its clock was moved. Units: milliseconds. */
  readonly shiftMs: number;
  readonly file: string;
  readonly format: Reading['format'];
  readonly start: Instant | null;
  readonly movingS: Seconds;
  readonly quality: number | null;
  readonly damage: Reading['damage'];
  /** Read by an earlier reader, whose figures stay. */
  readonly isKept: boolean;
  readonly place: (typeof PLACES)[number];
  readonly notes: Reading['notes'];
}

/** The ground of a recorded ride and why it weighs what it does. */
export interface RideGround {
  /** The severity that was assumed beforehand. */
  readonly prior: number;
  readonly classes: readonly WeighedClass[];
  readonly profile: readonly ProfilePoint[];
  readonly explanation: readonly ExplanationPart[];
  readonly leftOut: Reading['leftOut'];
  /** Null where no recorder of it records them. */
  readonly landings: Landings | null;
}

/** A ride with what it was made from. */
export interface RideStory {
  readonly ride: RideRow;
  readonly bike: Bike | null;
  /** Tags of the units that were on the bike when it began. */
  readonly units: readonly string[];
  /** Null for hours entered by hand, which have `hand` instead. */
  readonly ground: RideGround | null;
  readonly hand: Fact<'hours'> | null;
  /** The one whose ground is used first. */
  readonly recordings: readonly RideRecording[];
  /** Rides that a person set apart from this one. */
  readonly apart: readonly Pick<RideRow, 'id' | 'start'>[];
}

/** What a ride's page shows. */
export interface RidePage extends RideStory {
  readonly riderName: string | null;
}

/** Errors: `not-found`. */
export async function getRidePage(tx: Tx, id: string): Promise<RidePage> {
  const story = await getRide(tx, id);
  const { riderId } = story.ride;
  const rider = riderId === null ? undefined : await tx.contacts.find(riderId);
  return { ...story, riderName: rider?.name ?? null };
}

/** Errors: `not-found`. */
export async function getRide(tx: Tx, id: string): Promise<RideStory> {
  const ride = await tx.rides.find(id);
  if (!ride) throw new ServiceError('not-found', `There is no ride ${id}.`);
  const bike = ride.bikeId === null ? null : await getBike(tx, ride.bikeId);
  const units = bike === null || ride.start === null ? [] : await listTagsOn(tx, bike.id, ride.start);
  const hand = ride.source === 'hand' ? ((await tx.facts.current('hours', id)) ?? null) : null;
  const made =
    ride.source === 'hand' ? { ground: null, recordings: [], apart: [] } : await madeOf(tx, ride, bike);
  return { ride, bike, units, hand, ...made };
}

async function listTagsOn(tx: Tx, bikeId: string, at: Instant): Promise<string[]> {
  const { timeZone } = await getWorkshop(tx);
  const tags = await tx.handles.all('unit');
  const fittings = (await tx.facts.list('fitting', { object: bikeId })).map((one) =>
    fittingOf(one, timeZone),
  );
  return fittings
    .filter((one) => fittingAt([one], at))
    .map((one) => tags.get(one.unitId) ?? one.unitId)
    .sort();
}

async function madeOf(
  tx: Tx,
  ride: RideRow,
  bike: Bike | null,
): Promise<Pick<RideStory, 'ground' | 'recordings' | 'apart'>> {
  const parts = await listParts(tx, ride.readingIds);
  // In the order of the ride's own making, on which the choice between equals depends.
  const group = ride.readingIds.map((id, i) =>
    moved(recordedOf(parts.find((part) => part.readingId === id)!), ride.shiftsMs[i] ?? 0),
  );
  const { members, best, terrain } = joinRecordings(group, bike ?? undefined);
  const { reading } = best.part;
  const options = {
    prior: priorOf(reading.subSport, bike?.type ?? null),
    weights: await getWeights(tx),
  };
  const wasRidden = best.part.answer.ride?.vehicle === true;
  const motor = members.some(({ part }) => wasHelped(part, bike ?? undefined));
  const leftOut = [
    ...reading.leftOut.filter(({ code }) => code !== 'lift' && (code !== 'vehicle' || !wasRidden)),
    ...carriedSeconds(best.part, motor),
  ];
  const files = await fileNames(tx, ride.readingIds);
  const profiles = await tx.readings.listProfiles([best.part.readingId]);
  const saidApart = parts.flatMap(({ answer }) =>
    Object.entries(answer.joins ?? {}).flatMap(([id, said]) => (said === false ? [id] : [])),
  );
  const apart = await tx.rides.listOfReadings([...new Set(saidApart)]);
  return {
    apart: apart.filter(({ id }) => id !== ride.id),
    ground: {
      prior: options.prior,
      classes: weighedClasses(terrain, options),
      profile: JSON.parse(profiles.get(best.part.readingId)!) as ProfilePoint[],
      explanation: explainWeight(terrain, ride, {
        wet: ride.wet === true,
        leftOut,
        weights: options.weights,
      }),
      landings: terrain.landings ?? null,
      leftOut,
    },
    recordings: group
      .map(
        (one): RideRecording => ({
          readingId: one.part.readingId,
          shiftMs: one.shiftMs,
          file: files.get(one.part.readingId) ?? '',
          format: one.part.reading.format,
          start: startOf(one.part),
          movingS: one.part.reading.movingS,
          quality: one.part.reading.terrain.quality,
          damage: one.part.reading.damage,
          isKept: one.part.leftAs !== undefined,
          place: one === best ? 'ground' : members.includes(one) ? 'joined' : 'covered',
          notes: one.part.reading.notes,
        }),
      )
      .sort((a, b) => PLACES.indexOf(a.place) - PLACES.indexOf(b.place)),
  };
}

/** The name under which each reading's file first came. */
async function fileNames(tx: Tx, readingIds: readonly string[]): Promise<Map<string, string>> {
  const rows = await tx.readings.getMany(readingIds);
  const arrivals = await tx.files.listArrivals([...new Set(rows.map((row) => row.fileId))]);
  return new Map(rows.map((row) => [row.id, arrivals.find((one) => one.fileId === row.fileId)?.name ?? '']));
}
