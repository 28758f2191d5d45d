import type { Clock } from '../ports/clock.js';
import type { Ids } from '../ports/ids.js';
import type { Log } from '../ports/log.js';
import type { Mailer, MailWriter } from '../ports/mailer.js';
import type { Originals } from '../ports/originals.js';
import type { RideReader } from '../ports/reader.js';
import type { Store } from '../ports/store.js';

import type { Links } from './mail/links.js';
import type { RidesMailbox } from './take/whoseMail.js';

/** What the steps of the story are given. */
export interface Deps {
  readonly store: Store;
  readonly clock: Clock;
  readonly reader: RideReader;
  readonly originals: Originals;
  readonly writer: MailWriter;
  readonly mailer: Mailer;
  readonly ids: Ids;
  readonly log: Log;
  /** Left out where there is no public address: then mails carry no links. */
  readonly links?: Links;
  /** To which riders mail rides; null or left out where they do not. */
  readonly rides?: RidesMailbox | null;
}
