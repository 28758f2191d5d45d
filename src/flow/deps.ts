import type { Clock, Ids, Log, Mailer, MailWriter, Originals, RideReader, Store } from '../ports.js';

import type { Links } from './mail/links.js';

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
}
