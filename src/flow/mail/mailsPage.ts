import { WORKSHOP } from '../../core/notices/notice/notice.js';
import { ServiceError } from '../../errors.js';
import type { Contact } from '../../ports/contacts.js';
import type { MailLine, MailRow, MailState } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';

const MOST_SHOWN = 100;
/** Of a mail in a list so many notices are named; its own page has all. */
const NOTICES_NAMED = 10;

/** A notice with the tag of the unit that it is about, where it is about one. */
export type ShownNotice = NoticeRow & { readonly tag: string | null };

/** A mail with whom it goes to and what it tells of. */
export interface ShownMail extends MailLine {
  readonly contact: Contact | undefined;
  readonly notices: readonly ShownNotice[];
  /** It tells of more than these. */
  readonly isMore: boolean;
}

/** What the list of mails shows. */
export interface MailsPage {
  readonly isEmpty: boolean;
  /** The latest in the state asked for. */
  readonly shown: readonly ShownMail[];
  /** Mails to the mailbox for rides that were no rider’s. */
  readonly left: number;
}

export async function getMailsPage(tx: Tx, state: MailState | undefined): Promise<MailsPage> {
  const mails = await tx.mails.listLatest({ state, most: MOST_SHOWN });
  const isEmpty = mails.length === 0 && (await tx.mails.listLatest({ most: 1 })).length === 0;
  return { isEmpty, shown: await listShown(tx, mails), left: await tx.mailed.countLeft() };
}

/** Returns the last mails to a rider, the latest first. */
export const listMailsTo = async (tx: Tx, riderId: string, most: number): Promise<ShownMail[]> =>
  listShown(tx, await tx.mails.listLatestTo(riderId, most));

/** Errors: `not-found`. */
export async function getMailPage(tx: Tx, id: string): Promise<ShownMail & Pick<MailRow, 'written'>> {
  const mail = await tx.mails.find(id);
  if (!mail) throw new ServiceError('not-found', 'There is no such mail.');
  const head = { ...mail, isWritten: mail.written !== null };
  const [shown] = await shownWith(tx, [{ mail: head, notices: await tx.notices.listOfMail(id) }]);
  return { ...shown!, written: mail.written };
}

async function listShown(tx: Tx, mails: readonly MailLine[]): Promise<ShownMail[]> {
  const about = [];
  for (const mail of mails)
    about.push({ mail, notices: await tx.notices.listFirstOfMail(mail.id, NOTICES_NAMED + 1) });
  return (await shownWith(tx, about)).map((one) => ({
    ...one,
    notices: one.notices.slice(0, NOTICES_NAMED),
    isMore: one.notices.length > NOTICES_NAMED,
  }));
}

async function shownWith(
  tx: Tx,
  mails: readonly { readonly mail: MailLine; readonly notices: readonly NoticeRow[] }[],
): Promise<ShownMail[]> {
  const unitIds = mails.flatMap(({ notices }) => notices.flatMap(({ unitId }) => unitId ?? []));
  const tags = await tx.handles.listOf('unit', [...new Set(unitIds)]);
  const riderIds = [...new Set(mails.map(({ mail }) => mail.to))].filter((to) => to !== WORKSHOP);
  const contacts = new Map((await tx.contacts.listOf(riderIds)).map((one) => [one.riderId, one]));
  return mails.map(({ mail, notices }) => ({
    ...mail,
    contact: contacts.get(mail.to),
    notices: notices.map((notice) => ({ ...notice, tag: tags.get(notice.unitId ?? '') ?? null })),
    isMore: false,
  }));
}
