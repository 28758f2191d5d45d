import { dayOf } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { type RingsSeen, type Teaching, teach } from '../../core/ledger/findingsTeach.js';
import { type AgeGap, type PartStay, partStays } from '../../core/ledger/partAge.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, hoursOfThousandths, type Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger, type UnitLedger } from '../unitLedger.js';
import { listAllCharged } from './listCharged.js';
import { hoursSince } from './partAges.js';

const LOOKS: Readonly<Record<string, boolean>> = { pale: false, honey: false, dark: true };

/** Why a look teaches nothing: the age of its rings is unknown, or nobody counted their hours. */
export const UNUSABLE = ['never-new', 'not-said', 'not-ridden'] as const satisfies readonly (
  | AgeGap
  | 'not-ridden'
)[];
type Unusable = (typeof UNUSABLE)[number];

export type RingsTaught = Teaching & {
  readonly unusable: number;
  readonly unusableBy: Readonly<Record<Unusable, number>>;
};

/** Returns what foam rings seen so far teach, counted from new rings, and which looks could not be used. */
export async function getTeaching(tx: Tx, now: Instant): Promise<RingsTaught> {
  const looked = await listLookedAt(tx);
  const looks: (RingsSeen | Unusable)[] = [];
  for (const unitId of new Set(looked.map(({ body }) => body.unitId)))
    looks.push(...(await listLooks(tx, unitId, now)));
  const seen = looks.filter((look) => typeof look !== 'string');
  const count = (reason: Unusable): number => looks.filter((look) => look === reason).length;
  const unusableBy = {
    'never-new': count('never-new'),
    'not-said': count('not-said'),
    'not-ridden': count('not-ridden'),
  };
  // The same looks give the same ranges, whatever the day.
  return { ...teach(seen, `foam rings ${seen.length}`), unusable: looks.length - seen.length, unusableBy };
}

const lookOf = (findings: Readonly<Record<string, string>> | null | undefined): boolean | undefined =>
  LOOKS[findings?.foamRings ?? ''];

/** Returns the services at which somebody saw the colour of foam rings, in order of entry. */
export const listLookedAt = async (tx: Tx): Promise<Fact<'service'>[]> =>
  (await tx.facts.list('service')).filter(({ body }) => lookOf(body.findings) !== undefined);

interface Look {
  /** Of the rings, until they were seen. */
  readonly stay: PartStay;
  readonly isDark: boolean;
}

/** Returns each look at the rings of a unit. */
export function looksOf({ unit, fittings, services, zone }: UnitLedger, now: Instant): Look[] {
  const stays = partStays({ unit, fittings, services, part: 'foamRings', today: dayOf(now, zone), zone });
  return stays.flatMap((stay) => {
    const isDark = lookOf(stay.endedBy?.findings);
    return isDark === undefined ? [] : [{ stay, isDark }];
  });
}

/** Each look at the rings of a unit with the hours that they had run since they were new. */
async function listLooks(tx: Tx, unitId: string, now: Instant): Promise<(RingsSeen | Unusable)[]> {
  const { timeZone: zone } = await getWorkshop(tx);
  const ledger = await getUnitLedger(tx, unitId, zone);
  const { charged } = await listAllCharged(tx, ledger, now);
  return looksOf(ledger, now).map(({ stay, isDark }): RingsSeen | Unusable => {
    if (stay.gap !== null) return stay.gap;
    const { movingS, terrainMs } = hoursSince(stay, charged);
    // Rings do not stay unridden until a service: nothing was recorded.
    if (movingS === 0) return 'not-ridden';
    return {
      unitId,
      isDark,
      terrainHours: hoursOfThousandths(terrainMs),
      movingHours: hoursOfSeconds(movingS),
    };
  });
}
