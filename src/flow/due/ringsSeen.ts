import { dayOf } from '../../core/days/calendar.js';
import { type RingsSeen, type Teaching, teach } from '../../core/ledger/findingsTeach.js';
import { hoursIn } from '../../core/ledger/hours.js';
import { periodsOf } from '../../core/ledger/period.js';
import { RINGS_KIND } from '../../core/ledger/serviceKinds.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, hoursOfThousandths, type Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';
import { listAllCharged } from './listCharged.js';

const LOOKS: Readonly<Record<string, boolean>> = { pale: false, honey: false, dark: true };

/** Returns what foam rings seen so far teach, and how many looks could not be used. */
export async function getTeaching(tx: Tx, now: Instant): Promise<Teaching & { readonly unusable: number }> {
  const looks = new Map<string, { readonly unitId: string; readonly isDark: boolean }>();
  for (const { entityId, body } of await tx.facts.list('service')) {
    const isDark = LOOKS[body.findings?.foamRings ?? ''];
    if (isDark !== undefined) looks.set(entityId, { unitId: body.unitId, isDark });
  }
  const seen: RingsSeen[] = [];
  for (const unitId of new Set([...looks.values()].map((look) => look.unitId)))
    seen.push(...(await listSeen(tx, unitId, looks, now)));
  // The same looks give the same ranges, whatever the day.
  return { ...teach(seen, `foam rings ${seen.length}`), unusable: looks.size - seen.length };
}

/** The hours of each service period that a look ended; one of which nobody counted the hours tells nothing. */
async function listSeen(
  tx: Tx,
  unitId: string,
  looks: ReadonlyMap<string, { readonly isDark: boolean }>,
  now: Instant,
): Promise<RingsSeen[]> {
  const { timeZone: zone } = await getWorkshop(tx);
  const ledger = await getUnitLedger(tx, unitId, zone);
  const { unit, fittings, services } = ledger;
  const { charged } = await listAllCharged(tx, ledger, now);
  const today = dayOf(now, zone);
  const periods = periodsOf({ unit, fittings, services, serviceKind: RINGS_KIND, today, zone });
  return periods.flatMap((period, i) => {
    const look = looks.get(periods[i + 1]?.periodId ?? '');
    if (!look || !period.isKnown) return [];
    const { movingS, terrainMs } = hoursIn(period, charged);
    // Rings do not stay unridden until a service: nothing was recorded.
    if (movingS === 0) return [];
    const hours = { terrainHours: hoursOfThousandths(terrainMs), movingHours: hoursOfSeconds(movingS) };
    return [{ unitId, isDark: look.isDark, ...hours }];
  });
}
