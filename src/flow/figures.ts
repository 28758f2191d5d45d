import type { State } from '../core/tokens.js';
import type { FileRow } from '../ports/files.js';
import { MAIL_STATES, type MailState } from '../ports/mails.js';
import type { Tx } from '../ports/store.js';
import { DAY_MS, type Instant, instant } from '../units.js';

/** How much there is of what a monitor watches; nobody is named. */
export interface Figures {
  /** Files that came within a day. */
  readonly came: Readonly<Partial<Record<FileRow['outcome'], number>>>;
  readonly asking: number;
  readonly mails: ReadonlyMap<MailState, number>;
  readonly units: ReadonlyMap<State, number>;
}

export async function getFigures(tx: Tx, now: Instant): Promise<Figures> {
  const mails = new Map<MailState, number>();
  for (const state of MAIL_STATES) mails.set(state, await tx.mails.countIn(state));
  return {
    came: await tx.files.countCameIn(instant(now - DAY_MS)),
    asking: await tx.rides.countAsking(),
    mails,
    units: (await tx.standings.summary()).counts,
  };
}
