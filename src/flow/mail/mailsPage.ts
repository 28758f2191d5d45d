import { WORKSHOP } from '../../core/notices/notice/notice.js';
import { ServiceError } from '../../errors.js';
import type { Contact } from '../../ports/contacts.js';
import type { MailRow, MailState } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';

const MOST_SHOWN = 100;

/** A notice with the tag of the unit that it is about, where it is about one. */
export type ShownNotice = NoticeRow & { readonly tag: string | null };

/** A mail with whom it goes to and what it tells of. */
export interface ShownMail extends MailRow {
  readonly contact: Contact | undefined;
  readonly notices: readonly ShownNotice[];
}

/** What the list of mails shows. */
export interface MailsPage {
  /** How many there are in any state. */
  readonly all: number;
  /** The latest in the state asked for. */
  readonly shown: readonly ShownMail[];
  /** Mails to the mailbox for rides that were no rider’s. */
  readonly left: number;
}

export async function getMailsPage(tx: Tx, state: MailState | undefined): Promise<MailsPage> {
  const shown: ShownMail[] = [];
  for (const mail of await tx.mails.listLatest({ state, most: MOST_SHOWN }))
    shown.push(await withAbout(tx, mail));
  return { all: await tx.mails.count(), shown, left: await tx.mailed.countLeft() };
}

/** Returns the last mails to a rider, the latest first. */
export const listMailsTo = async (tx: Tx, riderId: string, most: number): Promise<ShownMail[]> => {
  const shown: ShownMail[] = [];
  for (const mail of await tx.mails.listLatestTo(riderId, most)) shown.push(await withAbout(tx, mail));
  return shown;
};

/** Errors: `not-found`. */
export async function getMailPage(tx: Tx, id: string): Promise<ShownMail> {
  const mail = await tx.mails.find(id);
  if (!mail) throw new ServiceError('not-found', 'There is no such mail.');
  return withAbout(tx, mail);
}

async function withAbout(tx: Tx, mail: MailRow): Promise<ShownMail> {
  const notices = await tx.notices.listOfMail(mail.id);
  const unitIds = [...new Set(notices.map(({ unitId }) => unitId).filter((id) => id !== null))];
  const tags = await tx.handles.listOf('unit', unitIds);
  return {
    ...mail,
    contact: mail.to === WORKSHOP ? undefined : await tx.contacts.find(mail.to),
    notices: notices.map((notice) => ({ ...notice, tag: tags.get(notice.unitId ?? '') ?? null })),
  };
}
