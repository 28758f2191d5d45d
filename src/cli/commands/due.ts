import type { Command } from 'commander';
import { type DueRow, isDueBy, listDue } from '../../flow/due/listDue.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { wordsFor } from '../../languages/index.js';
import type { Day } from '../../units.js';
import { isoTime } from '../../units.js';
import { contextOf } from '../context.js';
import { withStanchion } from '../opened.js';
import type { Output } from '../output.js';

export const due = async (options: { by?: Day }, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    await refreshAllDue(stanchion);
    const rows = await stanchion.store.read((tx) => listDue(tx, stanchion.clock.now()));
    showDue(out, options.by === undefined ? rows : rows.filter((row) => isDueBy(row, options.by!)));
  });
};

/** Shows rows as JSON lines or as a table. */
export function showDue(out: Output, rows: readonly DueRow[]): void {
  for (const row of rows) {
    const { unitId: _unit, bikeId: _bike, riderId: _rider, asOf, ...rest } = row;
    out.object({ ...rest, asOf: isoTime(asOf) });
  }
  const words = wordsFor('en');
  out.table(
    [
      'unit',
      'service',
      'bike',
      'rider',
      'state',
      'likely',
      'between',
      'moving h',
      'terrain h',
      'of',
      'left',
      'first limit',
      'waiting h',
      'known to',
      'since about h',
      'declared h',
    ],
    rows.map((row) => [
      row.unit,
      words.serviceKind(row.serviceKind),
      row.bike ?? 'boxed',
      row.rider ?? '',
      words.state[row.state],
      row.likely.p50 ?? 'not foretold',
      row.likely.p10 === null || row.likely.p90 === null ? '' : `${row.likely.p10} and ${row.likely.p90}`,
      row.movingHoursSince.toFixed(1),
      row.terrainHoursSince.toFixed(1),
      row.interval.terrainHours?.toString() ?? '',
      row.hoursLeft?.toFixed(1) ?? '',
      words.limit[row.limit],
      row.waitingHours > 0 ? row.waitingHours.toFixed(1) : '',
      row.knownUpTo ?? '',
      row.expectedHoursSince >= 0.05 ? row.expectedHoursSince.toFixed(1) : '',
      row.declaredHours > 0 ? row.declaredHours.toFixed(1) : '',
    ]),
  );
  if (rows.length === 0) out.line('Nothing is counted yet. Import units and fit them to bikes.');
  else
    out.line(
      'Terrain hours are an estimate from elevation; moving hours stand beside them. The maker’s manual comes first.',
    );
}
