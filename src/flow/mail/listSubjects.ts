import { groupBy } from '../../core/groupBy.js';
import type { Fact, ToldFact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { defaultRestarts } from '../../core/ledger/serviceKinds.js';
import type { Subject } from '../../core/notices/notice/notice.js';
import { isToDo, restsUntil } from '../../core/plan/atHome.js';
import { answerOf } from '../../core/plan/leads.js';
import { isAtLeast } from '../../core/states.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { badOnes, keyOf, listLogged } from '../home/kits.js';
import { listAddedKinds } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

const saysOf = (
  told: ToldFact,
  { serviceKind, periodId, state }: StandingRow,
  markId: string | null,
): boolean =>
  state === 'stop-riding'
    ? markId !== null && told.markId === markId
    : told.serviceKind === serviceKind && told.periodId === periodId && isAtLeast(told.state, state);

/** Returns what notices are decided on: every standing, or those of some units. */
export async function listSubjects(
  tx: Tx,
  now: Instant,
  zone: string,
  unitIds?: readonly string[],
): Promise<Subject[]> {
  const factsOf = <K extends 'unit' | 'mark' | 'fitting' | 'told' | 'atHome'>(
    kind: K,
  ): Promise<readonly Fact<K>[]> =>
    unitIds === undefined ? tx.facts.list(kind) : tx.facts.listMany(kind, unitIds);
  const units = new Map((await factsOf('unit')).map((fact) => [fact.entityId, fact.body]));
  const marks = new Map((await factsOf('mark')).map((fact) => [fact.body.unitId, fact]));
  const bikeNow = new Map<string, string>();
  for (const fact of await factsOf('fitting')) {
    const fitting = fittingOf(fact, zone);
    if (fittingNow([fitting], now)) bikeNow.set(fitting.unitId, fitting.bikeId);
  }
  const riders = new Map<string, string | null>();
  for (const bikeId of new Set(bikeNow.values())) {
    riders.set(bikeId, (await tx.facts.current('bike', bikeId))?.body.riderId ?? null);
  }
  const [only, ...more] = unitIds ?? [];
  const isOne = only !== undefined && more.length === 0;
  const leads = groupBy(
    isOne ? await tx.leads.listOfUnit(only) : await tx.leads.list(['asked-for', 'booked', 'declined']),
    (lead) => lead.unitId,
  );
  const added = await listAddedKinds(tx);
  const told = groupBy(await factsOf('told'), ({ body }) => body.unitId);
  const later = new Map((await tx.leads.listLater(isOne ? only : undefined)).map((one) => [one.unitId, one]));
  const standings =
    unitIds === undefined ? await tx.standings.list() : await tx.standings.listOfMany(unitIds);
  const homes = await factsOf('atHome');
  const toDo = new Map(homes.filter(({ body }) => isToDo(body)).map(({ body }) => [keyOf(body), body]));
  const bad = badOnes(await listLogged(tx, homes, standings));
  return standings.flatMap((standing): Subject[] => {
    const unit = units.get(standing.unitId);
    if (!unit) return [];
    const mark = marks.get(standing.unitId);
    const riderId = riders.get(bikeNow.get(standing.unitId) ?? '') ?? null;
    const own = <T extends { readonly riderId: string | null }>(one: T): boolean => one.riderId === riderId;
    const said = later.get(standing.unitId);
    const home = toDo.get(keyOf(standing));
    const isBad = (bad.get(standing.unitId) ?? []).some(
      ({ service }) => service.serviceKind === standing.serviceKind,
    );
    return [
      {
        standing,
        restarts: defaultRestarts(unit, standing.serviceKind, added) ?? [],
        riderId,
        markId: mark?.body.stop ? mark.entityId : null,
        isTold: (told.get(standing.unitId) ?? []).some(({ body }) =>
          saysOf(body, standing, mark?.entityId ?? null),
        ),
        ...(home && own(home) && { homeUntil: restsUntil(home) }),
        ...(isBad && { isBadAtHome: true }),
        answer: answerOf(
          (leads.get(standing.unitId) ?? []).filter(own),
          said && own(said) ? said : undefined,
        ),
      },
    ];
  });
}
