import { dayOf } from '../../core/days/calendar.js';
import { WORKSHOP } from '../../core/notices/notice/notice.js';
import type { MailWriter, OutgoingMail, StopWays } from '../../ports/mailer.js';
import type { MailRow } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import type { RidesMailbox } from '../take/whoseMail.js';
import type { MailWork } from './kinds/mailKind.js';
import { LinkMaker, type Links } from './links.js';
import { MAIL_KINDS } from './mailKinds.js';
import { outgoing, senderOf } from './outgoing.js';

/** What mails are written with. */
export interface Pen {
  readonly writer: MailWriter;
  readonly links?: Links;
  readonly rides?: RidesMailbox | null;
}

/**
 * Returns a mail as things stand now; null where it has lost its reason, or its reader the address.
 * Shape: `notices` are those that it carries; none in a letter.
 */
export async function composeMail(
  tx: Tx,
  mail: MailRow,
  notices: readonly NoticeRow[],
  pen: Pen,
  now: Instant,
): Promise<OutgoingMail | null> {
  const workshop = await getWorkshop(tx);
  const today = dayOf(now, workshop.timeZone);
  const work: MailWork = {
    tx,
    mail,
    notices,
    now,
    today,
    workshop,
    links: pen.links ?? null,
    rides: pen.rides ?? null,
  };
  return mail.to === WORKSHOP ? composeForWorkshop(work, pen) : composeForRider(work, pen);
}

async function composeForWorkshop(work: MailWork, { writer }: Pen): Promise<OutgoingMail | null> {
  const { mail, workshop, now } = work;
  const told = await MAIL_KINDS[mail.mail].toWorkshop?.(work);
  if (!told) return null;
  const headers = writer.headers(workshop.language, null);
  return outgoing(mail, workshop, senderOf(workshop), writer.write(told), headers, now);
}

async function composeForRider(work: MailWork, { writer }: Pen): Promise<OutgoingMail | null> {
  const { tx, mail, workshop, today, links, now } = work;
  const contact = await tx.contacts.find(mail.to);
  const kind = MAIL_KINDS[mail.mail];
  if (!contact?.email || contact.refusedAt !== null) return null;
  const { name, language, email } = contact;
  const maker = links && new LinkMaker(links, tx.workshopId, contact, now);
  const frame = { workshop, rider: { name, language }, today };
  const told = await kind.toRider?.({ ...work, contact: { ...contact, email }, frame, maker });
  if (!told) return null;
  const stop: StopWays | null = kind.stops
    ? {
        address: senderOf(workshop).address,
        oneClickUrl: maker?.links.isOneClick ? maker.own(kind.stops) : null,
      }
    : null;
  const headers = writer.headers(language, stop);
  return outgoing(mail, workshop, { name, address: email }, writer.write(told), headers, now);
}
