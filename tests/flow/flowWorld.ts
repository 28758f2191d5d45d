import { createHash, randomUUID } from 'node:crypto';
import { expect } from 'vitest';
import { readDocument } from '../../src/cli/importSchema.js';
import type { Recording, Sensor } from '../../src/core/ground/samples/recording.js';
import { openFile } from '../../src/files/archives/openFile.js';
import { isWholeFile } from '../../src/files/isWhole.js';
import { mayBeRide } from '../../src/files/mayBeRide.js';
import { readContent } from '../../src/files/readFile.js';
import { marksUnder } from '../../src/files/threads/marks.js';
import { checkLedger } from '../../src/flow/carry/checkLedger.js';
import { importLedger } from '../../src/flow/carry/importLedger.js';
import type { Deps } from '../../src/flow/deps.js';
import { type DueRow, listDue } from '../../src/flow/due/listDue.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { deliverOutbox } from '../../src/flow/mail/deliverOutbox.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { decodeFile } from '../../src/flow/take/decodeFile.js';
import { type HandedOver, ingestFile, type Taken } from '../../src/flow/take/ingestFile.js';
import { mailWriter } from '../../src/mail/writer.js';
import type { HandleKind } from '../../src/ports/handles.js';
import type { OutgoingMail } from '../../src/ports/mailer.js';
import type { FileContent } from '../../src/ports/reader.js';
import { type Instant, instant } from '../../src/units.js';
import { openMade } from '../fixtures/openMade.js';
import { openTestStore } from '../fixtures/storePlace.js';

const STEP_S = 10;
const SPEED_MPS = 5;

/** An invented ride file: plain words, so that a delivery of thousands is cheap; see `rideFile`. */
interface RideFile {
  readonly start: string;
  readonly minutes: number;
  readonly sensors?: readonly Sensor[];
  readonly sport?: string | null;
  readonly subSport?: string | null;
  readonly damage?: Recording['damage'];
  /** Rides a loop of this size, so that it is known again; without it there are no positions. Units: metres. */
  readonly loopM?: number;
  /** The loop lies so far north of the others. Units: degrees. */
  readonly north?: number;
  /** The name of the profile that was chosen on the recorder. */
  readonly profile?: string;
  /** The recorder's serial number. */
  readonly serial?: string;
  /** Tells files of one ride apart. */
  readonly made?: number | string;
}

export const rideFile = (start: string, minutes: number, rest: Partial<RideFile> = {}): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ start, minutes, ...rest }));

/** All moving at one speed, without elevation. */
function recordingOf({
  start,
  minutes,
  sensors = [],
  sport = 'cycling',
  subSport = null,
  damage = null,
  loopM,
  north = 0,
  profile,
  serial,
}: RideFile): Recording {
  const count = (minutes * 60) / STEP_S + 1;
  const column = (value: (i: number) => number) => Float64Array.from({ length: count }, (_, i) => value(i));
  const none = column(() => Number.NaN);
  return {
    format: 'fit',
    sport,
    subSport,
    samples: {
      count,
      timeMs: column((i) => Date.parse(start) + i * STEP_S * 1000),
      ...(loopM === undefined ? { lat: none, lon: none } : positionsOf(column, loopM, north)),
      eleM: none,
      distM: column((i) => i * STEP_S * SPEED_MPS),
      speedMps: column(() => SPEED_MPS),
    },
    spans: [{ from: 0, to: count }],
    damage,
    sensors,
    claims: { elapsedS: null, timerS: null, distanceM: null },
    notes: [],
    ...(serial !== undefined && { serial }),
    ...(profile === undefined
      ? {}
      : {
          recorder: {
            ...{ profileName: profile, localOffsetMs: null, jumpCount: null, jumps: [], motor: null },
          },
        }),
  };
}

/** Round and round an invented place in the sea. */
function positionsOf(column: (value: (i: number) => number) => Float64Array, loopM: number, north: number) {
  const angle = (i: number): number => (2 * Math.PI * i * STEP_S * SPEED_MPS) / loopM;
  const radius = loopM / (2 * Math.PI) / 111_000;
  return {
    lat: column((i) => 41 + north + radius * Math.sin(angle(i))),
    lon: column((i) => -30 + radius * Math.cos(angle(i))),
  };
}

const readMade = (bytes: Uint8Array, source: string): FileContent =>
  bytes[0] === 0x7b
    ? { recordings: [recordingOf(JSON.parse(new TextDecoder().decode(bytes)))] }
    : readContent(bytes, source);

export const WORKSHOP = {
  id: 'w1',
  name: 'Test bench',
  timeZone: 'Europe/Lisbon',
  openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
  remindersFrom: '2020-01-01',
  email: 'bench@example.org',
};

/** A rider with a trail bike and a new fork, unless the document says otherwise. */
export const DOCUMENT = {
  workshop: WORKSHOP,
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2020-01-01' }],
};

/** The flow with a real store, a clock that the test moves, and mails that are kept. */
export class FlowWorld {
  sent: OutgoingMail[] = [];
  readonly #ids = new Map<string, string>();
  private constructor(
    readonly deps: Deps,
    private time: { now: Instant },
  ) {}

  static async open(now: string, document: object = DOCUMENT): Promise<FlowWorld> {
    const time = { now: instant(Date.parse(now)) };
    const sent: OutgoingMail[] = [];
    const deps: Deps = {
      store: await openTestStore(time.now),
      clock: { now: () => time.now },
      reader: {
        decode: async (file, now) => decodeFile(readMade, file, now, marksUnder(file.placeKey!)),
        open: openFile,
        mayBeRide,
        isWhole: isWholeFile,
      },
      originals: { keep: async (bytes) => createHash('sha256').update(bytes).digest('hex') },
      writer: mailWriter,
      mailer: { deliver: async (mail) => void sent.push(mail) },
      ids: { uuid: randomUUID },
      log: { info: () => undefined, error: () => undefined },
    };
    const world = new FlowWorld(deps, time);
    world.sent = sent;
    await world.import(document);
    return world;
  }

  set now(time: string) {
    this.time.now = instant(Date.parse(time));
  }

  get entry() {
    return { by: 'test', at: this.time.now };
  }

  async import(document: object): Promise<void> {
    const read = readDocument(document);
    if ('wrong' in read) throw new Error(JSON.stringify(read.wrong));
    await this.deps.store.write((tx) => importLedger(tx, read.document, this.entry));
  }

  async id(kind: HandleKind, handle: string): Promise<string> {
    const key = `${kind} ${handle}`;
    const id = this.#ids.get(key) ?? (await this.deps.store.read((tx) => tx.handles.find(kind, handle)));
    if (id === undefined) throw new Error(`no ${key}`);
    this.#ids.set(key, id);
    return id;
  }

  async take(
    bytes: Uint8Array,
    from: { name?: string; rider?: string | null; bike?: string; rule?: HandedOver['rule'] } = {},
  ): Promise<Taken> {
    const { name = 'ride.fit', rider = 'r1', bike, rule = 'chosen' } = from;
    return ingestFile(this.deps, {
      name,
      bytes,
      riderId: rider === null ? null : await this.id('rider', rider),
      bikeId: bike === undefined ? null : await this.id('bike', bike),
      rule: bike === undefined ? null : rule,
    });
  }

  /** Takes what is in an archive. */
  async takeArchive(bytes: Uint8Array, name: string, rider = 'r1'): Promise<Taken[]> {
    const taken: Taken[] = [];
    for await (const member of openMade(bytes, name)) {
      if ('bytes' in member) taken.push(await this.take(member.bytes, { name: member.name, rider }));
    }
    return taken;
  }

  async due(unit: string, serviceKind = 'lower-leg'): Promise<DueRow> {
    await refreshAllDue(this.deps);
    const rows = await this.deps.store.read((tx) => listDue(tx, this.time.now));
    return rows.find((row) => row.unit === unit && row.serviceKind === serviceKind)!;
  }

  /** Decides and hands over; returns the mails that left, as `to: subject`. */
  async mail(): Promise<string[]> {
    const before = this.sent.length;
    await refreshAllDue(this.deps);
    await queueNotices(this.deps);
    await deliverOutbox(this.deps);
    return this.sent.slice(before).map((mail) => `${mail.to.address}: ${mail.subject}`);
  }

  async expectSound(): Promise<void> {
    await refreshAllDue(this.deps);
    expect(await checkLedger(this.deps.store)).toMatchObject({ ok: true, faults: [] });
  }
}
