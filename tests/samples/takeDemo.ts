import { createHash } from 'node:crypto';
import { makeScenario, type Scenario } from '../../samples/scenario.js';
import { openFile } from '../../src/files/archives/openFile.js';
import { isWholeFile } from '../../src/files/isWhole.js';
import { mayBeRide } from '../../src/files/mayBeRide.js';
import { readContent } from '../../src/files/readFile.js';
import { marksUnder } from '../../src/files/threads/marks.js';
import { importLedger } from '../../src/flow/carry/importLedger.js';
import type { Deps } from '../../src/flow/deps.js';
import { type DueRow, listDue } from '../../src/flow/due/listDue.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { deriveAnew } from '../../src/flow/facts/deriveAnew.js';
import { markUnit } from '../../src/flow/facts/enterFacts.js';
import { benchUnit } from '../../src/flow/facts/jobs.js';
import type { ImportDocument } from '../../src/flow/facts/ledgerDocument.js';
import { decodeFile } from '../../src/flow/take/decodeFile.js';
import { ingestFile, type Taken } from '../../src/flow/take/ingestFile.js';
import { openStore } from '../../src/store/open.js';
import { day, type Instant, moment } from '../../src/units.js';

/** As the program tells places from one another; the key is of this test. */
const mark = marksUnder('demo');

/** The document with its defaults filled in by hand, so that this stands apart from how `import` reads it. */
const filled = ({ document }: Scenario): ImportDocument => {
  const row = <T>(rows: readonly T[]) => rows.map((one, i) => ({ ...one, at: `row ${i + 1}` }));
  const { id, ...workshop } = document.workshop;
  return {
    workshop: {
      ...workshop,
      at: 'workshop',
      id,
      remindersFrom: day(workshop.remindersFrom),
      digestHour: 7,
      noticeDays: 14,
      language: 'en',
    },
    weights: null,
    ledger: null,
    serviceKinds: row(document.serviceKinds.map((kind) => ({ ...kind, terrainHours: null, months: null }))),
    memberships: [],
    gone: [],
    fleets: row(document.fleets),
    riders: row(document.riders),
    bikes: row(document.bikes),
    units: row(
      document.units.map((unit) => ({
        ...unit,
        warrantyEnd: unit.warrantyEnd === null ? null : day(unit.warrantyEnd),
        history:
          typeof unit.history === 'string' ? unit.history : { ...unit.history, asOf: day(unit.history.asOf) },
      })),
    ),
    fittings: row(
      document.fittings.map((fitting) => ({
        ...fitting,
        from: moment(fitting.from),
        to: fitting.to === null ? null : moment(fitting.to),
      })),
    ),
    services: row(
      document.services.map((service) => ({
        ...service,
        on: day(service.on),
        findings: service.findings ?? null,
        note: null,
      })),
    ),
    intervals: row(document.intervals),
    hours: row(document.hours.map((hours) => ({ ...hours, on: day(hours.on), note: null }))),
    unrecorded: row(document.unrecorded.map((one) => ({ ...one, from: day(one.from), to: null }))),
    declared: row(document.declared.map((one) => ({ ...one, from: day(one.from), saidOn: day(one.saidOn) }))),
    races: row(document.races.map((race) => ({ ...race, on: day(race.on) }))),
    sheets: [],
    parts: row(document.parts),
    shelf: row(document.shelf.map((shelf) => ({ ...shelf, countedOn: day(shelf.countedOn) }))),
  };
};

const never = (): never => {
  throw new Error('nothing here sends or logs');
};

/** The demo taken from end to end, without the network and the drop folder. */
export const takeDemo = async (
  path: string,
  today: string,
  now: Instant,
): Promise<{ scenario: Scenario; taken: Map<string, Taken>; due: DueRow[] }> => {
  const scenario = makeScenario(today);
  const store = await openStore(path, now);
  await deriveAnew({ store, clock: { now: () => now } });
  const deps: Deps = {
    store,
    clock: { now: () => now },
    reader: {
      decode: async (file, at) => decodeFile(readContent, file, at, mark),
      open: openFile,
      mayBeRide,
      isWhole: isWholeFile,
    },
    originals: { keep: async (bytes) => createHash('sha256').update(bytes).digest('hex') },
    writer: { write: never, headers: never },
    mailer: { deliver: never },
    ids: { uuid: never },
    log: { info: () => undefined, error: never },
  };
  const entry = { by: 'test', at: now };
  await store.write((tx) => importLedger(tx, filled(scenario), entry));
  const ids = await store.read(async (tx) => ({
    rider: invert(await tx.handles.all('rider')),
    bike: invert(await tx.handles.all('bike')),
    unit: invert(await tx.handles.all('unit')),
  }));
  const taken = new Map<string, Taken>();
  for (const file of [...scenario.rides].sort((a, b) => (a.path < b.path ? -1 : 1))) {
    const [, ...folders] = file.path.split('/').slice(0, -1);
    const bikeId = ids.bike.get(folders[1] ?? '') ?? null;
    const handed = {
      name: file.path,
      bytes: file.bytes(),
      riderId: ids.rider.get(folders[0] ?? '') ?? null,
      bikeId,
      rule: bikeId === null ? null : ('subfolder' as const),
    };
    taken.set(file.path, await ingestFile(deps, handed));
  }
  for (const action of scenario.actions) {
    const unitId = ids.unit.get(action.unit)!;
    await store.write((tx) =>
      action.does === 'mark'
        ? markUnit(tx, unitId, true, action.why, entry)
        : benchUnit(tx, unitId, true, entry),
    );
  }
  await refreshAllDue(deps);
  const due = await store.read((tx) => listDue(tx, now));
  await store.close();
  return { scenario, taken, due };
};

const invert = (handles: ReadonlyMap<string, string>): Map<string, string> =>
  new Map([...handles].map(([id, handle]) => [handle, id]));
