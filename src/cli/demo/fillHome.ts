/** The demo's riders who do a job at home: one whose kit waits, one who has it, and one who saw scratches. */
import type { HomeJob } from '../../core/ledger/facts.js';
import type { Entry } from '../../flow/entry.js';
import { setWorkshop } from '../../flow/facts/setWorkshop.js';
import { chooseHome, findHomePage, type HomePage, logHome } from '../../flow/home/atHome.js';
import { getKits, sayKit } from '../../flow/home/kits.js';
import { findWorkshop } from '../../flow/settings.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { getByHandle } from '../opened.js';

const LOWER_LEG = { unitKind: 'fork', serviceKind: 'lower-leg' } as const;
/** Invented. */
const JOBS: readonly HomeJob[] = [
  { ...LOWER_LEG, model: 'Sample trail fork T-150', stopHere: 'A foot nut whose stud turns with it' },
  { ...LOWER_LEG, model: 'Sample trail fork T-130', stopHere: '' },
  {
    unitKind: 'air-shock',
    serviceKind: 'air-sleeve',
    model: 'Sample air shock A-55',
    stopHere: 'A sleeve that does not turn by hand',
  },
];

export async function fillHome(tx: Tx, today: Day, entry: Entry, ids: Ids): Promise<void> {
  await setWorkshop(tx, (await findWorkshop(tx))!.id, { homeJobs: JOBS }, entry);
  await chosenBy(tx, 'r3', 'F-0103', 'lower-leg', entry, ids);
  await chosenBy(tx, 'r1', 'A-0101', 'air-sleeve', entry, ids);
  const { toPickUp } = await getKits(tx, entry.at);
  const kit = toPickUp.find(({ tag }) => tag === 'A-0101')!;
  await sayKit(tx, kit.job.unitId, kit.factId, 'picked-up', entry);
  const page = await chosenBy(tx, 'r8', 'F-0111', 'lower-leg', entry, ids);
  const findings = { foamRings: 'dark', stanchions: 'scratched', damper: 'smooth', leaks: 'none' };
  const said = { on: today, findings, photos: [], shows: 'rings', stopWhy: () => '' } as const;
  await logHome(tx, page, page.chosen!, said, { ...entry, by: `rider ${page.chosen!.body.riderId}` });
}

async function chosenBy(
  tx: Tx,
  rider: string,
  tag: string,
  serviceKind: string,
  { at }: Entry,
  ids: Ids,
): Promise<HomePage> {
  const riderId = await getByHandle(tx, 'rider', rider);
  const of = { unitId: await getByHandle(tx, 'unit', tag), serviceKind };
  const page = await findHomePage(tx, riderId, of, at);
  if (!page || !(await chooseHome(tx, riderId, page, { by: `rider ${riderId}`, at }, ids)))
    throw new Error(`the demo's rider ${rider} cannot do ${tag} at home`);
  return (await findHomePage(tx, riderId, of, at))!;
}
