import type { Instant } from '../units.js';

/** The only place that knows a rider's name and address. */
export interface Contact {
  readonly riderId: string;
  readonly name: string;
  readonly email: string | null;
  /** Another for each new address, so that one can be told from the next without being kept. */
  readonly addressId: string;
  readonly phone: string | null;
  /** What the workshop wrote down about them, for itself. */
  readonly note: string | null;
  readonly language: string;
  readonly confirmedAt: Instant | null;
  readonly unsubscribedAt: Instant | null;
  /** When mail to this address was refused for good. */
  readonly refusedAt: Instant | null;
  /** Links of an earlier epoch are void. */
  readonly linkEpoch: number;
}

export interface ContactTable {
  find(riderId: string): Promise<Contact | undefined>;
  /** In order of names. */
  list(): Promise<readonly Contact[]>;
  /** The first of them. */
  listFirst(most: number): Promise<readonly Contact[]>;
  count(): Promise<number>;
  listOf(riderIds: readonly string[]): Promise<readonly Contact[]>;
  /** A contact whose address changed is given a new `addressId`, unconfirmed and not refused. */
  put(contact: Omit<Contact, 'addressId' | 'refusedAt' | 'linkEpoch'>): Promise<void>;
  markRefused(riderId: string, at: Instant): Promise<void>;
  confirm(riderId: string, at: Instant): Promise<void>;
  /** Null takes the reminders up again. */
  setUnsubscribed(riderId: string, at: Instant | null): Promise<void>;
  /** Makes every link that the rider was sent void. */
  revokeLinks(riderId: string): Promise<void>;
  remove(riderId: string): Promise<void>;
}
