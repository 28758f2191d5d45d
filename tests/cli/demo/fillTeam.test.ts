import { describe, expect, it } from 'vitest';
import { teamSeasonOf } from '../../../samples/teamSeason.js';
import { fillTeam } from '../../../src/cli/demo/fillTeam.js';
import { readDocument } from '../../../src/cli/importSchema.js';
import { listDifferences } from '../../../src/flow/carry/checkLedger.js';
import { importLedger } from '../../../src/flow/carry/importLedger.js';
import { getFleetByName } from '../../../src/flow/fittings/fleet.js';
import { listRacePlans } from '../../../src/flow/plan/racePlan.js';
import type { Store } from '../../../src/ports/store.js';
import { day, instant } from '../../../src/units.js';
import { openTestStore } from '../../fixtures/storePlace.js';

const TODAY = day('2026-06-10');
const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));
const WORKSHOP = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['tue', 'wed', 'thu', 'fri'],
  },
};

describe('the season of a team of twelve', () => {
  const played = async (): Promise<Store> => {
    const store = await openTestStore(NOW);
    const read = readDocument(WORKSHOP);
    if ('wrong' in read) throw new Error(JSON.stringify(read.wrong));
    await store.write((tx) => importLedger(tx, read.document, { by: 'owner', at: NOW }));
    await fillTeam(store, TODAY, NOW);
    return store;
  };

  it('is a sound ledger of twelve bikes and thirty units, of which one retired', async () => {
    const store = await played();
    const { bikes, units } = await store.read((tx) => getFleetByName(tx, 't9', NOW));
    expect(bikes.map(({ name }) => name).slice(0, 3)).toEqual(['Larkspur 1', 'Larkspur 2', 'Larkspur 3']);
    expect([bikes.length, units.length, teamSeasonOf(TODAY).units.length]).toEqual([12, 29, 30]);
    expect(units.map(({ unit }) => unit.tag)).not.toContain('F-913');
    expect(units.filter(({ stopped }) => stopped !== null).map(({ unit }) => unit.tag)).toEqual(['F-910']);
    expect(await store.read(listDifferences)).toEqual([]);
  }, 60_000);

  it('the forgotten swap stands at its place, and the spare has the hours since then', async () => {
    const store = await played();
    const { units } = await store.read((tx) => getFleetByName(tx, 't9', NOW));
    const on = (tag: string) => units.find(({ unit }) => unit.tag === tag)?.bike?.name ?? null;
    expect([on('F-915'), on('F-911'), on('F-914'), on('F-907')]).toEqual([
      'Larkspur 11',
      null,
      'Larkspur 3',
      'Larkspur 8',
    ]);
    // By hand: the minutes of Larkspur 11 on the weekends after the swap, ten weeks before.
    const minutes = teamSeasonOf(TODAY)
      .hours.filter(({ bike, on: at }) => bike === 'b911' && at > '2026-04-01')
      .reduce((sum, one) => sum + one.minutes, 0);
    const spare = units.find(({ unit }) => unit.tag === 'F-915')!;
    expect(spare.standings.find(({ serviceKind }) => serviceKind === 'full')?.movingS).toBe(minutes * 60);
  }, 60_000);

  it('each job before the next race has its day on the bench, not after the day by which it must be done, or none', async () => {
    const store = await played();
    const [race] = await store.read((tx) => listRacePlans(tx, NOW));
    expect(race!.name).toBe('Larkspur Open');
    expect(race!.jobs.length).toBeGreaterThan(0);
    expect(race!.jobs.every(({ on, by }) => on === null || (by !== null && on <= by))).toBe(true);
  }, 60_000);
});
