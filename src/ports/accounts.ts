import type { Instant } from '../units.js';

export const ROLES = ['owner', 'technician', 'mechanic'] as const;

export type Role = (typeof ROLES)[number];

export interface Account {
  readonly id: string;
  readonly name: string;
  readonly passwordHash: string;
  readonly role: Role;
  /** The fleet that a mechanic looks after; null for the others. */
  readonly fleetId: string | null;
}

export interface Session {
  /** SHA-256 of the secret in the cookie; the secret itself is nowhere. */
  readonly tokenHash: string;
  readonly accountId: string;
  readonly createdAt: Instant;
  /** Within minutes. */
  readonly usedAt: Instant;
  readonly expiresAt: Instant;
}

export interface AccountTable {
  findByName(name: string): Promise<Account | undefined>;
  find(id: string): Promise<Account | undefined>;
  /** Errors: `refused` when the name is taken. */
  add(account: Omit<Account, 'id' | 'fleetId'> & { readonly fleetId?: string | null }): Promise<Account>;
  /** In order of names. */
  list(): Promise<readonly Account[]>;
  setPassword(id: string, passwordHash: string): Promise<void>;
  /** Its sessions end with it. */
  remove(id: string): Promise<void>;
  addSession(session: Session): Promise<void>;
  findSession(tokenHash: string): Promise<Session | undefined>;
  /** Keeps when a session was used last. */
  useSession(tokenHash: string, at: Instant): Promise<void>;
  removeSession(tokenHash: string): Promise<void>;
  removeSessionsOf(accountId: string): Promise<void>;
}
