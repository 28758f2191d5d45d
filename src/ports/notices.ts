import type { NoticeKey } from '../core/notices/notice/notice.js';
import type { Instant } from '../units.js';

export interface NoticeRow extends NoticeKey {
  readonly id: string;
  readonly mailId: string;
  readonly decidedAt: Instant;
  readonly withdrawnAt: Instant | null;
  /** False once it was withdrawn before anybody tried to send it. */
  readonly keepsPlace: boolean;
  /** Since when the reason of a sent one is gone. */
  readonly lapsedAt: Instant | null;
}

export interface NoticeTable {
  list(): Promise<readonly NoticeRow[]>;
  find(id: string): Promise<NoticeRow | undefined>;
  /** The one that holds the place of a key. */
  findKept(key: NoticeKey): Promise<NoticeRow | undefined>;
  /** All about some units. */
  listOfUnits(unitIds: readonly string[]): Promise<readonly NoticeRow[]>;
  listOfMail(mailId: string): Promise<readonly NoticeRow[]>;
  /** The first of them, at most so many: those that stand, and then those that were withdrawn. */
  listFirstOfMail(mailId: string, most: number): Promise<readonly NoticeRow[]>;
  /** Returns false when a notice with that key holds its place already. */
  add(notice: NoticeKey & Pick<NoticeRow, 'mailId' | 'decidedAt'>): Promise<boolean>;
  /** A withdrawn notice that nobody tried to send frees its place. */
  withdraw(id: string, at: Instant, freesPlace: boolean): Promise<void>;
  lapse(id: string, at: Instant): Promise<void>;
}
