import type { Instant, Seconds, Thousandths } from '../../units.js';
import type { PlaceMarks } from '../ground/samples/placeMarks.js';
import type { MovingInterval, ReadingSaid, Terrain } from '../ground/samples/reading.js';
import type { Question } from '../tokens.js';
import type { Attribution, NamedBike, Said } from './attribution.js';

/** Which stretches upward were ridden, and which not, since the recording's start. */
export interface ClimbsSaid {
  readonly ridden: readonly MovingInterval[];
  readonly notRidden: readonly MovingInterval[];
}

/** A person's word on a recording, the latest of each kind. */
export interface Answer {
  readonly riderId?: string;
  readonly bikeId?: string;
  /** By question: yes, riding and a ride of its own; or no. */
  readonly ride?: Readonly<Partial<Record<Question, boolean>>>;
  readonly on?: Instant;
  readonly minutes?: number;
  readonly wet?: boolean;
  readonly climbs?: ClimbsSaid;
  /** By another recording: by how many milliseconds its clock goes behind this one's, and both are one ride; or false. */
  readonly joins?: Readonly<Record<string, number | false>>;
}

/** One recording with everything that was said about it: by the folder it lay in, at the upload, in the tray. */
export interface Part {
  readonly readingId: string;
  readonly reading: ReadingSaid;
  /** By a later reader its file holds no such ride (`lost`), or could not be read again (`kept`). */
  readonly leftAs?: 'lost' | 'kept';
  readonly riderId: string | null;
  /** Each bike that was named when its file was handed over. */
  readonly named: readonly NamedBike[];
  readonly answer: Answer;
  /** When its file was first handed over. */
  readonly arrived: Said;
  readonly marks?: PlaceMarks;
}

/** A ride as it stands: it counts when nothing is asked, nobody said that it is none, and it was outdoors on a bike. */
export interface Ride {
  /** That of its earliest recording. */
  readonly id: string;
  readonly readingIds: readonly string[];
  /** By how much the clock of each was moved, in the same order. Units: milliseconds. */
  readonly shiftsMs: readonly number[];
  readonly riderId: string | null;
  /** Left out where anything but its recorder says whose it is. */
  readonly riderRule?: 'recorder';
  readonly bikeId: string | null;
  readonly bikeRule: Attribution['bikeRule'];
  readonly start: Instant | null;
  readonly end: Instant | null;
  readonly movingS: Seconds;
  /** What hours are counted from: before a unit's factor and any bounds. */
  readonly groundMs: Thousandths;
  /** As shown: what a unit without a factor is charged on its bike. */
  readonly terrainMs: Thousandths;
  /** What its weight follows from, so that other weights need no reading; null where it was entered by hand. */
  readonly terrain: Terrain | null;
  readonly severity: number;
  readonly quality: number | null;
  readonly distanceM: number;
  readonly ascentM: number | null;
  readonly descentM: number | null;
  readonly subSport: string | null;
  readonly indoor: boolean;
  /** Somebody said that it was ridden in the wet; left out: nobody did. */
  readonly wet?: true;
  /** What kept a recording of it from being read whole. */
  readonly damage: ReadingSaid['damage'];
  /** Left out where every recording was read by the reader of now. */
  readonly formerReader?: true;
  readonly question: Question | null;
  /** The ride that this one is, or may be, the same as. */
  readonly otherRideId: string | null;
  readonly dismissed: boolean;
}

export const isCounted = (ride: Ride): boolean =>
  ride.question === null && !ride.dismissed && !ride.indoor && ride.bikeId !== null;
