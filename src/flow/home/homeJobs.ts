/** Which jobs a workshop may let riders do at home: by the models of the units that it knows. */
import type { Fact, HomeJob } from '../../core/ledger/facts.js';
import { sheetFor } from '../../core/ledger/sheet.js';
import { HOME_JOBS } from '../../core/plan/atHome.js';
import type { Tx } from '../../ports/store.js';
import { findWorkshop } from '../settings.js';

/** A job on a model, with what is said of it. */
export interface HomeModel extends HomeJob {
  readonly isAllowed: boolean;
  readonly units: number;
  /** How many figures from its manual somebody typed. */
  readonly figures: number;
}

/** What the page of jobs at home shows. */
export const getHomeJobsPage = async (
  tx: Tx,
): Promise<{ readonly fact: Fact<'workshop'>; readonly models: readonly HomeModel[] }> => ({
  fact: (await findWorkshop(tx))!,
  models: await listHomeModels(tx),
});

/** Returns every model with the job that may be done at home, those of most units first. */
export async function listHomeModels(tx: Tx): Promise<HomeModel[]> {
  const { homeJobs = [] } = (await findWorkshop(tx))!.body;
  const units = (await tx.facts.list('unit')).map(({ body }) => body);
  const sheets = (await tx.facts.list('sheet')).map(({ body }) => body);
  return HOME_JOBS.flatMap(({ unitKind, serviceKind }) => {
    const ofKind = units.filter((unit) => unit.unitKind === unitKind);
    const allowed = homeJobs.filter((one) => one.unitKind === unitKind && one.serviceKind === serviceKind);
    const models = new Set([...ofKind, ...allowed].map(({ model }) => model).filter((one) => one !== null));
    return [...models].map((model): HomeModel => {
      const own = ofKind.filter((unit) => unit.model === model);
      const job = allowed.find((one) => one.model === model);
      const [first] = own;
      return {
        ...{ unitKind, serviceKind, model, isAllowed: job !== undefined, units: own.length },
        stopHere: job?.stopHere ?? '',
        figures: first ? sheetFor(null, first, sheets).lines.length : 0,
      };
    });
  }).sort((a, b) => b.units - a.units || (a.model < b.model ? -1 : 1));
}
