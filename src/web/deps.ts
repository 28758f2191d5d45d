import type {
  Clock,
  FeedWriter,
  Forgetting,
  Ids,
  Log,
  Originals,
  RideReader,
  Seal,
  Store,
  Vitals,
} from '../ports.js';

/** What the pages are given. */
export interface WebDeps {
  readonly store: Store;
  readonly ids: Ids;
  readonly clock: Clock;
  readonly log: Log;
  /** Signs what pages hand out. */
  readonly secret: Uint8Array;
  /** The address that people use, where it is not the one listened on; HTTPS turns on what needs it. */
  readonly publicUrl: string | null;
  /** A session that nobody used for so long has ended. */
  readonly restDays: number;
  /** Left out where no loop runs in this process. */
  readonly vitals?: Vitals;
  /** What the pages of riders need; left out, there are none. */
  readonly rider?: RiderDeps;
}

export interface RiderDeps {
  readonly ids: Ids;
  readonly seal: Seal;
  readonly feed: FeedWriter;
  readonly reader: Pick<RideReader, 'decode' | 'openBytes' | 'mayBeRide'>;
  readonly originals: Originals;
  /** For so long. */
  readonly keptMonths: number;
  readonly forgetting: Forgetting;
}
