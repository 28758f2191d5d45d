/** What riders said of bikes and units, and what they take back of it. */
import { dayOf } from '../../core/days/calendar.js';
import type { Fact, GoneFact } from '../../core/ledger/facts.js';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { changeThing } from '../counter/changeThings.js';
import type { Entry } from '../entry.js';
import { replaceFact, voidFact } from '../facts/changeFact.js';
import { getWorkshop } from '../settings.js';

/** One thing that a rider said. */
export interface SaidLine {
  readonly kind: 'service' | 'hours' | 'gone' | 'bike';
  readonly fact: Fact;
  readonly on: Day;
  /** The bike or the unit's tag that it is about. */
  readonly about: string;
}

const LINES_SHOWN = 12;

/** Returns what a rider said of bikes and units, the latest first. */
export async function listSaid(tx: Tx, riderId: string): Promise<SaidLine[]> {
  const by = `rider ${riderId}`;
  const { timeZone } = await getWorkshop(tx);
  const lines: SaidLine[] = [];
  const bikes = await tx.facts.list('bike', { object: riderId });
  const seen = new Set<string>();
  const add = (fact: Fact, kind: SaidLine['kind'], about: string): void => {
    if (fact.recordedBy !== by || seen.has(fact.id)) return;
    seen.add(fact.id);
    lines.push({ kind, fact, on: dayOf(fact.recordedAt, timeZone), about });
  };
  for (const bike of bikes) {
    add(bike, 'bike', bike.body.name);
    for (const hours of await tx.facts.list('hours', { subject: bike.entityId }))
      add(hours, 'hours', bike.body.name);
    for (const { body } of await tx.facts.list('fitting', { object: bike.entityId })) {
      const tag = (await tx.facts.current('unit', body.unitId))?.body.tag ?? '';
      for (const one of await tx.facts.list('service', { subject: body.unitId })) add(one, 'service', tag);
      for (const one of await tx.facts.list('gone', { subject: body.unitId })) add(one, 'gone', tag);
    }
  }
  return lines.sort((a, b) => b.fact.seq - a.fact.seq).slice(0, LINES_SHOWN);
}

/** What may be taken back by its rider alone. */
export const mayTakeBack = ({ kind, fact }: SaidLine): boolean =>
  kind !== 'bike' || Boolean((fact as Fact<'bike'>).body.sold);

/** What left with a bike that was sold. */
const isWithBike = (one: SaidLine, bike: SaidLine): boolean =>
  one.kind === 'gone' && one.fact.why === 'bike sold' && one.fact.recordedAt === bike.fact.recordedAt;

/** Takes up again the fitting that ended when the unit left. */
async function backWhereItWas(tx: Tx, { unitId, on }: GoneFact, entry: Entry): Promise<void> {
  const evening = afterLastRideOf(on, (await getWorkshop(tx)).timeZone);
  const ended = (await tx.facts.list('fitting', { subject: unitId })).find(({ body }) => body.to === evening);
  if (ended) await replaceFact(tx, ended.id, { kind: 'fitting', body: { ...ended.body, to: null } }, entry);
}

/**
 * Takes back what the rider said; a unit that was sold is back on the bike that it left. Returns false where it is not the
 * rider's own word, or stands no more. Errors: `refused`.
 */
export async function takeBack(tx: Tx, riderId: string, factId: string, entry: Entry): Promise<boolean> {
  const lines = await listSaid(tx, riderId);
  const line = lines.find((one) => one.fact.id === factId);
  if (!line || !mayTakeBack(line)) return false;
  const why = 'taken back by its rider';
  if (line.kind === 'bike') {
    const { entityId } = line.fact;
    for (const one of lines) if (isWithBike(one, line)) await takeBack(tx, riderId, one.fact.id, entry);
    await changeThing(
      tx,
      { kind: 'bike', entityId, factId: undefined, words: { sold: null } },
      { ...entry, why },
    );
    return true;
  }
  await voidFact(tx, factId, why, entry);
  if (line.kind === 'gone') await backWhereItWas(tx, (line.fact as Fact<'gone'>).body, { ...entry, why });
  return true;
}
