import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { type ForeseenUnit, listForeseenOf } from '../due/foreseen.js';
import { listLeads, type ShownLead } from './listLeads.js';

/** What lies on the bench, and which days are taken. */
export interface BenchPage {
  readonly units: readonly ForeseenUnit[];
  readonly leads: readonly ShownLead[];
}

export const getBenchPage = async (tx: Tx, now: Instant): Promise<BenchPage> => ({
  units: await listForeseenOf(tx, now, await tx.standings.listUnitsIn(['on-the-bench'])),
  leads: await listLeads(tx, now, ['asked-for', 'booked']),
});
