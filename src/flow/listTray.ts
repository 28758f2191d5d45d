import type { Question } from '../core/settle.js';
import type { Tx } from '../ports.js';
import { hoursOfSeconds, type Instant, seconds } from '../units.js';
import { QUESTIONS } from './questions.js';

/** What waits in the tray, with the ways to answer. */
export interface TrayRow {
  readonly id: string;
  readonly file: string;
  readonly code: Question;
  readonly question: string;
  readonly start: Instant | null;
  readonly movingHours: number;
  /** The moving hours if the doubtful part was ridden too. */
  readonly movingHoursWithDoubtful: number | null;
  readonly rider: string | null;
  readonly bike: string | null;
  readonly sameAs: string | null;
  /** As options of the command. */
  readonly answers: readonly string[];
}

export async function listTray(tx: Tx): Promise<TrayRow[]> {
  const riders = await tx.handles.all('rider');
  const bikes = await tx.handles.all('bike');
  const asking = await tx.rides.listAsking();
  const rows: TrayRow[] = [];
  for (const ride of asking) {
    const readings = await tx.readings.getMany(ride.readingIds);
    const [arrival] = await tx.files.listArrivals(readings.map((reading) => reading.fileId));
    const own = ride.riderId === null ? [] : await tx.facts.list('bike', { object: ride.riderId });
    const doubtful = readings.flatMap(({ reading }) => reading.doubtful?.moving ?? []);
    const doubtfulMs = doubtful.reduce((sum, [from, to]) => sum + to - from, 0);
    rows.push({
      id: ride.id,
      file: arrival?.name ?? '',
      code: ride.question!,
      question: QUESTIONS[ride.question!],
      start: ride.start,
      movingHours: hoursOfSeconds(ride.movingS),
      movingHoursWithDoubtful:
        doubtfulMs === 0 ? null : hoursOfSeconds(seconds(ride.movingS + doubtfulMs / 1000)),
      rider: ride.riderId === null ? null : (riders.get(ride.riderId) ?? null),
      bike: ride.bikeId === null ? null : (bikes.get(ride.bikeId) ?? null),
      sameAs: ride.otherRideId,
      answers: answersTo(
        ride.question!,
        own.map((fact) => fact.body.handle),
      ),
    });
  }
  return rows;
}

function answersTo(question: Question, bikes: readonly string[]): string[] {
  const notARide = '--ride no';
  switch (question) {
    case 'no-times':
      return ['--on 2025-05-20T08:00:00Z --minutes 90', notARide];
    case 'clock-unset':
    case 'clock-future':
      return ['--on 2025-05-20T08:00:00Z', notARide];
    case 'who':
      return ['--rider RIDER', '--bike BIKE', notARide];
    case 'which-bike':
      return [...(bikes.length > 0 ? bikes.map((bike) => `--bike ${bike}`) : ['--bike BIKE']), notARide];
    default:
      return ['--ride yes', notARide];
  }
}
