/** The season of a team of twelve, played on the demo's ledger beside its workshop. */
import { teamActsOf, teamSeasonOf } from '../../../samples/teamSeason.js';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import { ServiceError } from '../../errors.js';
import { importLedger } from '../../flow/carry/importLedger.js';
import { markUnit } from '../../flow/facts/enterFacts.js';
import { swapUnits } from '../../flow/fittings/fittings.js';
import { setGone } from '../../flow/fittings/whereabouts.js';
import { getWorkshop } from '../../flow/settings.js';
import type { Store, Tx } from '../../ports/store.js';
import { type Day, day, type Instant } from '../../units.js';
import { readDocument } from '../importSchema.js';
import { getByHandle } from '../opened.js';

/** Imports the team and enters what happened in its season, the forgotten swap last. */
export async function fillTeam(store: Store, today: Day, now: Instant): Promise<void> {
  const read = readDocument(teamSeasonOf(today));
  if ('wrong' in read) throw new ServiceError('refused', JSON.stringify(read.wrong));
  const entry = { by: 'owner', at: now };
  await store.write(async (tx) => {
    await importLedger(tx, read.document, entry);
    const { timeZone } = await getWorkshop(tx);
    const unitOf = (tag: string): Promise<string> => getByHandle(tx, 'unit', tag);
    for (const act of teamActsOf(today)) await play(tx, act, unitOf, { entry, zone: timeZone });
  });
}

type Act = ReturnType<typeof teamActsOf>[number];

async function play(
  tx: Tx,
  act: Act,
  unitOf: (tag: string) => Promise<string>,
  { entry, zone }: { readonly entry: { readonly by: string; readonly at: Instant }; readonly zone: string },
): Promise<void> {
  if (act.does === 'stop') await markUnit(tx, await unitOf(act.unit), true, act.why, entry);
  else if (act.does === 'gone')
    await setGone(tx, { unitId: await unitOf(act.unit), how: 'retired', on: day(act.on) }, entry);
  else {
    const [one, other] = act.units;
    const ids = [await unitOf(one), await unitOf(other)] as const;
    await swapUnits(tx, ids, afterLastRideOf(day(act.evening), zone), entry);
  }
}
