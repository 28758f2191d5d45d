/** The steps of a job at home, as facts. */
import type { AtHomeFact, Fact } from '../../core/ledger/facts.js';
import { isToDo } from '../../core/plan/atHome.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { replaceFact } from '../facts/changeFact.js';

/** Returns what a rider chose to do at home in the service period that runs, while it is to be done. */
export async function findChosen(
  tx: Tx,
  riderId: string,
  { unitId, serviceKind, periodId }: Pick<StandingRow, 'unitId' | 'serviceKind' | 'periodId'>,
): Promise<Fact<'atHome'> | null> {
  const all = await tx.facts.list('atHome', { subject: unitId });
  const isIt = ({ body }: Fact<'atHome'>): boolean =>
    isToDo(body) &&
    body.riderId === riderId &&
    body.serviceKind === serviceKind &&
    body.periodId === periodId;
  return all.findLast(isIt) ?? null;
}

/** Takes a job at home a step further. Errors: `already-replaced` where somebody was first. */
export const changeHome = (
  tx: Tx,
  { id, body }: Fact<'atHome'>,
  change: Partial<AtHomeFact>,
  entry: Entry,
): Promise<Fact<'atHome'>> => replaceFact(tx, id, { kind: 'atHome', body: { ...body, ...change } }, entry);
