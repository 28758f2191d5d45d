/** What a ledger of ten thousand, and of a hundred times as many rides costs: a ride, new weights, forecasts, a check. */
import { randomUUID } from 'node:crypto';
import { addDays, dayOf } from '../../../src/core/days/calendar.js';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import type { Deps } from '../../../src/flow/deps.js';
import { recountUnit, refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { setWeights } from '../../../src/flow/facts/setWeights.js';
import { deliverOutbox } from '../../../src/flow/mail/deliverOutbox.js';
import { queueNotices } from '../../../src/flow/mail/queueNotices.js';
import { listOfferedDays } from '../../../src/flow/plan/leadDays.js';
import type { ReadFile } from '../../../src/flow/take/ingestFile.js';
import { WHOLE_TURN } from '../../../src/flow/turn.js';
import { mailWriter } from '../../../src/mail/writer.js';
import type { Store } from '../../../src/ports/store.js';
import { openStore } from '../../../src/store/open.js';
import { DAY_MS, HOUR_MS, instant } from '../../../src/units.js';
import type { Figure } from './figure.js';
import { fill } from './fill.js';
import { NOW } from './ledgers.js';
import { readRide, store as storeRides, takeDeps } from './rides.js';
import { processorOf, timed, timeOf } from './timing.js';

export const RIDES_A_BIKE = 100;
const RUNS = 15;
const WARM_UPS = 3;
/** A ride costs at most so many times as much in a large ledger. */
const MOST_GROWTH = 1.5;
/** A mail asks for what it shows and nothing else. */
const MOST_MAIL_GROWTH = 1.2;
/** The list of the day costs at most so many times as much a row, and keeps nobody from writing for long. */
const MOST_DIGEST_GROWTH = 3;
const MOST_LOCK_MS = 1000;

export interface LedgerCost {
  readonly units: number;
  readonly rides: number;
  /** One ride after all others, and one among the oldest, without reading the file. */
  readonly newMs: number;
  readonly lateMs: number;
  /** The whole ledger. */
  readonly forecastsMs: number;
  /** Deciding what is to be told, as each beat does, when nothing is new. */
  readonly noticesMs: number;
  /** One mail to a rider, from the outbox to the relay. */
  readonly mailMs: number;
  /** The workshop's list of the day, of so many rows, and the longest that it kept others from writing. */
  readonly digestMs: number;
  readonly digestRows: number;
  readonly digestLockMs: number;
  /** The days that are offered to a rider whose service is coming up. */
  readonly freeDaysMs: number;
  readonly weightsMs: number;
  readonly checkMs: number;
}

/** Makes a ledger at a path and returns what it costs. Errors: where `check` finds a difference. */
export async function ledgerCost(
  path: string,
  units: number,
  { ridesABike = RIDES_A_BIKE, runs = RUNS } = {},
): Promise<LedgerCost> {
  await fill(path, NOW, { units, ridesABike });
  const store = await openStore(path, NOW);
  const deps = takeDeps(store, NOW);
  const forecastsMs = await timeOf(() => refreshAllDue(deps));
  const notices = (): Promise<unknown> => queueNotices({ ...deps, ids: { uuid: randomUUID } });
  await notices();
  const noticesMs = await timed(3, notices);
  const digest = await digestCost(store);
  const mailMs = await oneMailMs(store, runs);
  const freeDaysMs = await offeredMs(store, runs);
  const bikeId = await store.read(async (tx) => (await tx.handles.find('bike', 'b-p1'))!);
  // In the gaps between the rides that are there, and not so near one another that they have to do with each other.
  const rideMs = async (latest: number): Promise<number> => {
    const files: ReadFile[] = [];
    for (let run = 0; run < runs + WARM_UPS; run += 1)
      files.push(await readRide(deps, bikeId, latest - run * 3 * DAY_MS + HOUR_MS));
    return timed(runs, (run) => storeRides(deps, [files[run]!]), WARM_UPS);
  };
  const newMs = await rideMs(NOW - 2 * DAY_MS);
  const lateMs = await rideMs(NOW - 600 * DAY_MS);
  await refreshAllDue(deps);
  const weightsMs = await timeOf(() =>
    store.write((tx) => setWeights(tx, { smooth: 0.6, typical: 1, rough: 2 }, { by: 'bench', at: NOW })),
  );
  await refreshAllDue(deps);
  const checkMs = await timeOf(async () => {
    const { faults } = await checkLedger(store);
    if (faults.length > 0) throw new Error(faults.slice(0, 5).join('\n'));
  });
  await store.close();
  return {
    units,
    rides: units * ridesABike,
    newMs,
    lateMs,
    forecastsMs,
    noticesMs,
    mailMs,
    ...digest,
    freeDaysMs,
    weightsMs,
    checkMs,
  };
}

/** Writes the list of the day first of all that waits, and hands it over. */
async function digestCost(
  store: Store,
): Promise<Pick<LedgerCost, 'digestMs' | 'digestRows' | 'digestLockMs'>> {
  const digestRows = await store.write(async (tx) => {
    const [mail] = await tx.mails.listOfKind('digest');
    await tx.mails.update(mail!.id, { nextTryAt: instant(0) });
    return (await tx.notices.listOfMail(mail!.id)).length;
  });
  let digestLockMs = 0;
  const write: Store['write'] = (work) =>
    store.write(async (tx) => {
      const began = performance.now();
      const result = await work(tx);
      digestLockMs = Math.max(digestLockMs, performance.now() - began);
      return result;
    });
  const watched: Store = Object.assign(Object.create(store), { write });
  const digestMs = await processorOf(() => deliverOne(watched));
  const left = await store.read((tx) => tx.mails.listOfKind('digest'));
  if (left[0]!.state !== 'handed-over') throw new Error(`The list of the day is ${left[0]!.state}.`);
  return { digestMs, digestRows, digestLockMs };
}

/** Hands over one mail to a relay that takes all at once. */
function deliverOne(store: Store): Promise<boolean> {
  const mailer = { deliver: async () => {}, keepsOnly: false };
  const deps = { ...takeDeps(store, NOW), ids: { uuid: randomUUID }, writer: mailWriter, mailer };
  return deliverOutbox(deps as unknown as Deps, { ...WHOLE_TURN, isOver: () => true });
}

/** Hands over one mail after the other. */
const oneMailMs = (store: Store, runs: number): Promise<number> =>
  timed(runs, () => deliverOne(store), WARM_UPS, processorOf);

/** As a mail does for a service that is coming up, when the quiet weeks before it are looked for. */
async function offeredMs(store: Store, runs: number): Promise<number> {
  const wish = await store.write(async (tx) => {
    const [unitId] = (await tx.standings.listUnits(1)).unitIds;
    const standings = await tx.standings.listOf(unitId!);
    const p50 = addDays(dayOf(NOW, 'Etc/UTC'), 30);
    const soon = standings.map((one) => ({
      ...one,
      state: 'coming-up' as const,
      likely: { p10: p50, p50, p90: p50 },
    }));
    await tx.standings.put(unitId!, soon);
    return { units: [{ unitId: unitId!, jobs: ['lower-leg'] }], count: 3 };
  });
  const ms = await timed(runs, () => store.read((tx) => listOfferedDays(tx, wish, NOW)), WARM_UPS);
  await store.write((tx) => recountUnit(tx, wish.units[0]!.unitId, NOW));
  return ms;
}

/** Returns how each cost grows against the first ledger: of a ride as it is, of the whole ledger by ride or unit. */
export function growthFigures([first, ...larger]: readonly LedgerCost[]): Figure[] {
  if (first === undefined) return [];
  return larger.flatMap((one) => {
    const per = (whole: number, things: number): number => (whole / things) * 1000;
    const against = `in ${first.rides}`;
    const row = (what: string, ours: number, other: number, most?: number): Figure => ({
      ...{ what: `${what}, ${one.rides} rides`, ours, against, other, unit: 'ms' },
      ...(most === undefined ? {} : { most, aim: most }),
    });
    return [
      row('store a new ride', one.newMs, first.newMs, MOST_GROWTH),
      row('store a late ride', one.lateMs, first.lateMs, MOST_GROWTH),
      row(`write a mail, ${one.units} units`, one.mailMs, first.mailMs, MOST_MAIL_GROWTH),
      row(
        'the list of the day, 1000 rows',
        per(one.digestMs, one.digestRows),
        per(first.digestMs, first.digestRows),
        MOST_DIGEST_GROWTH,
      ),
      {
        what: `others wait for the list of the day, ${one.digestRows} rows`,
        ...{ ours: one.digestLockMs, against: 'a second', other: MOST_LOCK_MS, unit: 'ms' as const, most: 1 },
      },
      row('three free days', one.freeDaysMs, first.freeDaysMs),
      row('forecasts, 1000 units', per(one.forecastsMs, one.units), per(first.forecastsMs, first.units)),
      row('notices, 1000 units', per(one.noticesMs, one.units), per(first.noticesMs, first.units)),
      row('new weights, 1000 rides', per(one.weightsMs, one.rides), per(first.weightsMs, first.rides)),
      row('check, 1000 rides', per(one.checkMs, one.rides), per(first.checkMs, first.rides)),
    ];
  });
}
