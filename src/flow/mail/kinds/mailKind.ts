import type { WorkshopFact } from '../../../core/ledger/facts.js';
import type { StopPurpose } from '../../../core/links.js';
import type { ToldMail } from '../../../core/notices/mailContent.js';
import type { MailFrame } from '../../../core/notices/notice/frame.js';
import type { Contact } from '../../../ports/contacts.js';
import type { MailRow } from '../../../ports/mails.js';
import type { NoticeRow } from '../../../ports/notices.js';
import type { Tx } from '../../../ports/store.js';
import type { Day, Instant } from '../../../units.js';
import type { RidesMailbox } from '../../take/whoseMail.js';
import type { LinkMaker, Links } from '../links.js';

/** What a mail is written from; read anew each time. */
export interface MailWork {
  readonly tx: Tx;
  readonly mail: MailRow;
  /** What it carries; none in a letter. */
  readonly notices: readonly NoticeRow[];
  readonly now: Instant;
  readonly today: Day;
  readonly workshop: WorkshopFact;
  /** Null where there is no public address. */
  readonly links: Links | null;
  /** Null where rides do not come by mail. */
  readonly rides: RidesMailbox | null;
}

export interface RiderWork extends MailWork {
  readonly contact: Contact & { readonly email: string };
  readonly frame: MailFrame;
  /** Makes links of the rider's own. */
  readonly maker: LinkMaker | null;
}

/** One kind of mail: what it tells each reader that it goes to; null where it has lost its reason. */
export interface MailSource {
  /** The page on which a rider stops it; null for one that cannot be stopped. */
  readonly stops: StopPurpose | null;
  readonly toRider?: (work: RiderWork) => Promise<ToldMail | null>;
  readonly toWorkshop?: (work: MailWork) => Promise<ToldMail | null>;
}
