import type { Day, Instant } from '../../units.js';
import { addDays, atHour, dayOf, nextOpenDays } from '../days/calendar.js';
import {
  keepsPlace,
  type MailSlot,
  type NoticeInput,
  type PastNotice,
  type SlotRule,
} from './notice/notice.js';

/** Of mails that share a day, one of another kind that nobody tried yet gives way. */
function sharesDay(notice: PastNotice, { mail, sharesDay }: SlotRule): boolean {
  if (notice.mail === mail) return true;
  const givesWay = notice.status === 'queued' && !notice.wasTried;
  return sharesDay.includes(notice.mail) && !givesWay;
}

/** Farther than this a digest day is not looked for. */
const DAYS_TRIED = 60;

function candidateDays({ workshop }: NoticeInput, { when }: SlotRule, from: Day): Day[] {
  if (when === 'a-day') return Array.from({ length: DAYS_TRIED }, (_, i) => addDays(from, i));
  return nextOpenDays(from, DAYS_TRIED, workshop.openDays, workshop.closedDays);
}

/** Days on which a mail went, by the day it counted for and by the day it really left. */
function usedDays(sent: readonly PastNotice[], zone: string): Set<Day> {
  const days = new Set<Day>();
  for (const notice of sent) {
    days.add(notice.day);
    if (notice.settledAt !== null) days.add(dayOf(notice.settledAt, zone));
  }
  return days;
}

function sendAtOf(input: NoticeInput, day: Day, today: Day): Instant {
  const hour = atHour(day, input.workshop.digestHour, input.workshop.timeZone);
  return day === today && hour < input.now ? input.now : hour;
}

/**
 * Returns the slot of a recipient's next mail of a kind, or why there is none now. It joins a waiting mail, else takes
 * the next day that had none, at the workshop's hour or, once that has passed today, at once; digests on open days
 * only. So a clock that runs backwards, or an hour that comes twice, never gives a second mail for one day.
 * Shape: `past` is all to this recipient.
 */
export function slotFor(
  input: NoticeInput,
  rule: SlotRule,
  past: readonly PastNotice[],
): { readonly slot: MailSlot } | { readonly hold: string } {
  const { now, workshop } = input;
  const { mail } = rule;
  const today = dayOf(now, workshop.timeZone);
  if (rule.when === 'at-once') return { slot: { mail, day: today, sendAt: now } };
  // What was only written down takes nobody's day.
  const isTaken = (notice: PastNotice): boolean => keepsPlace(notice) && notice.status !== 'not-sent';
  const related = past.filter((notice) => isTaken(notice) && sharesDay(notice, rule));
  const waiting = related.filter((notice) => notice.status === 'queued');
  if (waiting.some((notice) => notice.wasTried)) return { hold: 'a mail to them is still on its way' };
  const joined = waiting.filter((notice) => notice.mail === mail).sort((a, b) => a.sendAt - b.sendAt)[0];
  if (joined) return { slot: { mail, day: joined.day, sendAt: joined.sendAt } };
  const used = usedDays(related, workshop.timeZone);
  const day = candidateDays(input, rule, today).find((one) => !used.has(one));
  if (day === undefined) return { hold: 'no open day is set on which a digest could go' };
  return { slot: { mail, day, sendAt: sendAtOf(input, day, today) } };
}
