import type { RidesMailbox } from '../flow/take/whoseMail.js';
import type { Clock } from '../ports/clock.js';
import type { Forgetting } from '../ports/forgetting.js';
import type { Ids } from '../ports/ids.js';
import type { Parts } from '../ports/inbox.js';
import type { Log } from '../ports/log.js';
import type { MachineState, Vitals } from '../ports/loops.js';
import type { FeedWriter, MailWriter } from '../ports/mailer.js';
import type { Originals, PhotoFiles, PhotoMaker } from '../ports/originals.js';
import type { RideReader } from '../ports/reader.js';
import type { Seal } from '../ports/seal.js';
import type { Store } from '../ports/store.js';

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
  /** Those whose word on where a request comes from counts. */
  readonly trustedProxy: readonly string[];
  /** Whoever shows it sees figures; null where this machine alone may. */
  readonly metricsSecret: string | null;
  /** A session that nobody used for so long has ended. */
  readonly restDays: number;
  /** Writes mails that somebody reads before they go; left out, none can be read. */
  readonly writer?: MailWriter;
  /** Left out where no loop runs in this process. */
  readonly vitals?: Vitals;
  /** Left out where nothing is known of the machine. */
  readonly machine?: () => Promise<MachineState>;
  /** What the pages of riders need; left out, there are none. */
  readonly rider?: RiderDeps;
  /** What photographs need; left out, none are taken or shown. */
  readonly photos?: PhotoDeps;
}

export interface PhotoDeps {
  readonly maker: PhotoMaker;
  readonly files: PhotoFiles;
  /** Where a file lies while it is sent. */
  readonly parts: Parts;
}

export interface RiderDeps {
  readonly ids: Ids;
  readonly seal: Seal;
  readonly feed: FeedWriter;
  readonly reader: Pick<RideReader, 'decode' | 'open' | 'mayBeRide'>;
  readonly originals: Originals;
  readonly parts: Parts;
  /** For so long. */
  readonly keptMonths: number;
  /** To which rides are mailed; null where there is none. */
  readonly mailbox: RidesMailbox | null;
  readonly forgetting: Forgetting;
}
