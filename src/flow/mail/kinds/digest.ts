import { monthsEnd } from '../../../core/forecast/dueChance.js';
import type { DigestRow } from '../../../core/notices/mailContent.js';
import { isTold, TOLD_STATES } from '../../../core/states.js';
import type { NoticeRow } from '../../../ports/notices.js';
import type { Tx } from '../../../ports/store.js';
import type { Instant } from '../../../units.js';
import { type DueRow, listDueOfMany } from '../../due/listDue.js';
import { listAddedKinds } from '../../settings.js';
import { listCalls } from '../listCalls.js';
import { oneRowAUnit } from '../oneRowAUnit.js';
import type { MailSource } from './mailKind.js';

/** The workshop's list of the day. */
export const digest: MailSource = {
  stops: null,
  toWorkshop: async ({ tx, notices, workshop, today, links, now }) => ({
    mail: 'digest',
    content: {
      ...{ workshop, today },
      rows: await digestRows(tx, notices, now),
      lastDigest: await tx.mails.lastDayOf('digest'),
      trayCount: await tx.rides.countAsking(),
      toCall: await listCalls(tx, now),
      link: links && `${links.publicUrl}/`,
    },
  }),
};

async function digestRows(tx: Tx, notices: readonly NoticeRow[], now: Instant): Promise<DigestRow[]> {
  const unitIds = await tx.standings.listUnitsIn(TOLD_STATES);
  const rows = await listDueOfMany(tx, unitIds, now);
  const riderIds = [...new Set(rows.map(({ riderId }) => riderId).filter((id) => id !== null))];
  const names = new Map((await tx.contacts.listOf(riderIds)).map((one) => [one.riderId, one.name]));
  const told = new Set(notices.map((one) => `${one.unitId} ${one.state} ${one.serviceKind}`));
  const stops = new Set(notices.flatMap((one) => (one.state === 'stop-riding' ? one.unitId : [])));
  const isNew = ({ unitId, serviceKind, state }: DueRow): boolean =>
    state === 'stop-riding' ? stops.has(unitId) : told.has(`${unitId} ${state} ${serviceKind}`);
  const ends = new Map(
    (await tx.standings.listOfMany(unitIds)).map((one) => [
      `${one.unitId} ${one.serviceKind}`,
      monthsEnd(one),
    ]),
  );
  return oneRowAUnit(rows, await listAddedKinds(tx)).flatMap((row) =>
    isTold(row.state)
      ? [
          {
            rider: row.riderId === null ? null : (names.get(row.riderId) ?? null),
            bike: row.bikeName,
            tag: row.unit,
            unitKind: row.unitKind,
            serviceKind: row.serviceKind,
            state: row.state,
            movingHours: row.movingHoursSince,
            terrainHours: row.terrainHoursSince,
            declaredHours: row.declaredHours,
            interval: row.interval,
            likely: row.likely,
            limit: row.limit,
            monthsEnd: ends.get(`${row.unitId} ${row.serviceKind}`) ?? null,
            isNew: isNew(row),
          },
        ]
      : [],
  );
}
