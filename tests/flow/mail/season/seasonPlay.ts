/** An invented workshop and its riders: what they do, day by day, is told to the program and written with the pencil. */
import { addDays, weekdayOf } from '../../../../src/core/days/calendar.js';
import { isReached } from '../../../../src/core/states.js';
import { ServiceError } from '../../../../src/errors.js';
import { type DueRow, listDue } from '../../../../src/flow/due/listDue.js';
import { voidFact } from '../../../../src/flow/facts/changeFact.js';
import { addHours, addService, markUnit, setInterval } from '../../../../src/flow/facts/enterFacts.js';
import { setWeights } from '../../../../src/flow/facts/setWeights.js';
import { sayTold } from '../../../../src/flow/mail/listCalls.js';
import type { OutgoingMail } from '../../../../src/ports/mailer.js';
import type { Day } from '../../../../src/units.js';
import { rideFile } from '../../flowWorld.js';
import { RiderWorld } from '../../riderWorld.js';
import {
  CLOSED,
  document,
  LATER,
  NO_ADDRESS,
  numbers,
  RARE,
  REFUSED,
  RESTS,
  START,
  STOPPED,
  UNSUBSCRIBES,
  units,
} from './cast.js';
import { type Kind, Pencil } from './pencil.js';

/** Always the same; the figure is made from rider and day. */
function chance(n: number, i: number, salt: number): number {
  let x = (n * 7919 + i * 104_729 + salt * 15_485_863) >>> 0;
  x = Math.imul(x ^ (x >>> 15), 0x2c1b3c6d);
  x = Math.imul(x ^ (x >>> 12), 0x297a2d39);
  return ((x ^ (x >>> 15)) >>> 0) / 2 ** 32;
}

/** Some hand each ride over at once, some a fortnight together, some type their hours. */
const wayOf = (n: number): 'at-once' | 'together' | 'by-hand' =>
  (['at-once', 'together', 'by-hand'] as const)[n % 3]!;
const MINUTES = [60, 75, 100, 120, 150, 185];
const GROUNDS = ['smooth', 'typical', 'rough'] as const;

function rides(n: number, i: number, on: Day): boolean {
  if (n === RESTS && i > 14) return false;
  const isWinter = ['11', '12', '01', '02'].includes(on.slice(5, 7)) && n % 2 === 0;
  return chance(n, i, 1) < (RARE.includes(n) ? 0.03 : 0.34) * (isWinter ? 0.4 : 1);
}

export interface Mailed {
  readonly on: Day;
  readonly mail: OutgoingMail;
}

export class Play {
  readonly mailed: Mailed[] = [];
  readonly pencil = new Pencil(units);
  /** Units that are marked, and why. */
  readonly marked = new Map<string, string>();
  readonly quiet = new Map<string, Day>();
  readonly told = new Set<string>();
  readonly #late = new Map<number, { i: number; on: Day }[]>();
  readonly #hours = new Map<number, { id: string; start: number }>();
  world!: RiderWorld;
  today = START;

  static async open(): Promise<Play> {
    const play = new Play();
    const deliver = async (mail: OutgoingMail): Promise<void> => {
      if (mail.to.address === `r${REFUSED}@example.org`)
        throw new ServiceError('mail-failed', '550 5.1.1 There is no such mailbox here.', {
          permanent: true,
        });
      play.mailed.push({ on: play.today, mail });
    };
    play.world = await RiderWorld.open({ now: `${START}T07:30:00Z`, document, mailer: { deliver } });
    return play;
  }

  get at(): number {
    return this.world.flow.deps.clock.now();
  }

  clock(i: number, time: string): void {
    this.today = addDays(START, i);
    this.world.now = `${this.today}T${time}Z`;
  }

  due = (): Promise<DueRow[]> => this.world.store.read((tx) => listDue(tx, this.world.flow.deps.clock.now()));
  #id = (kind: 'unit' | 'rider' | 'bike', handle: string): Promise<string> =>
    this.world.flow.id(kind, handle);

  /** What the riders do in the evening. */
  async ride(i: number): Promise<void> {
    for (const n of numbers) {
      const isRiding = rides(n, i, this.today);
      const way = wayOf(n);
      if (way === 'by-hand' && isRiding) await this.#type(n, i);
      if (way === 'at-once' && isRiding) await this.#take(n, i, this.today);
      if (way !== 'together') continue;
      const kept = [...(this.#late.get(n) ?? []), ...(isRiding ? [{ i, on: this.today }] : [])];
      if (i % 14 === 13) for (const one of kept) await this.#take(n, one.i, one.on);
      this.#late.set(n, i % 14 === 13 ? [] : kept);
    }
  }

  async #take(n: number, i: number, on: Day): Promise<void> {
    const [start, minutes] = [`${on}T10:00:00Z`, this.#minutes(n, i)];
    await this.world.flow.take(rideFile(start, minutes, { made: n }), {
      name: `${on}.fit`,
      rider: `r${n}`,
      bike: `b${n}`,
    });
    this.pencil.write({ n, start: Date.parse(start), day: on, minutes, ground: null, known: this.at });
  }

  #minutes = (n: number, i: number): number => MINUTES[Math.floor(chance(n, i, 2) * MINUTES.length)]!;

  async #type(n: number, i: number): Promise<void> {
    const ground = GROUNDS[(n + i) % 3]!;
    const [on, minutes] = [this.today, this.#minutes(n, i)];
    const hours = { bikeId: await this.#id('bike', `b${n}`), on, minutes, ground, note: null };
    const id = await this.world.store.write((tx) => addHours(tx, hours, this.world.flow.entry));
    const start = Date.parse(`${on}T12:00:00Z`);
    this.#hours.set(n, { id, start });
    this.pencil.write({ n, start, day: on, minutes, ground, known: this.at });
  }

  /** The bench does what has been due for a week or two, for every second rider. */
  async serve(): Promise<void> {
    if (['sat', 'sun'].includes(weekdayOf(this.today)) || CLOSED.includes(this.today)) return;
    const done = new Set<string>();
    for (const row of await this.due()) {
      const n = Number(row.unit.slice(2));
      if (n % 2 === 1 || !isReached(row.state) || done.has(row.unit)) continue;
      done.add(row.unit);
      const { unitId, serviceKind, unit: tag } = row;
      const service = {
        unitId,
        serviceKind,
        on: this.today,
        by: 'here' as const,
        findings: null,
        note: null,
      };
      await this.world.store.write((tx) => addService(tx, service, this.world.flow.entry));
      this.pencil.services.push({ tag, kind: serviceKind as Kind, on: this.today });
    }
  }

  async mark(tag: string, isStop: boolean, why: string): Promise<void> {
    const unitId = await this.#id('unit', tag);
    await this.world.store.write((tx) => markUnit(tx, unitId, isStop, why, this.world.flow.entry));
    if (isStop) this.marked.set(tag, why);
    else this.marked.delete(tag);
  }

  /** What else happens on a day, before its mails. */
  async happen(i: number): Promise<void> {
    const { store, flow } = this.world;
    if (i === 15) {
      const riderId = await this.#id('rider', `r${UNSUBSCRIBES}`);
      await store.write((tx) => tx.contacts.setUnsubscribed(riderId, flow.deps.clock.now()));
    }
    if (i === 18) {
      const [unitId, riderId] = [await this.#id('unit', `F-${LATER}`), await this.#id('rider', `r${LATER}`)];
      const until = addDays(this.today, 28);
      this.quiet.set(`F-${LATER}`, until);
      await store.write((tx) => tx.leads.putLater({ unitId, riderId, at: flow.deps.clock.now(), until }));
    }
    if (i === 20) await this.mark(`F-${STOPPED}`, true, 'a crack at the crown');
    if (i === 22) await this.mark(`F-${NO_ADDRESS}`, true, 'bent');
    if (i === 26) {
      const unitId = await this.#id('unit', `F-${NO_ADDRESS}`);
      await store.write((tx) => sayTold(tx, unitId, 'lower-leg', flow.entry));
      this.told.add(`F-${NO_ADDRESS}`);
    }
    if (i === 30) await this.#takeBack(2);
    if (i === 34) {
      const rule = { unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: 45, months: 12 } as const;
      const scope = { fleetId: null, model: null, unitId: null };
      await store.write((tx) =>
        setInterval(tx, { ...rule, movingHoursCeiling: 67.5, scope }, 'test', flow.deps.clock.now()),
      );
      this.pencil.rules.F['lower-leg'] = { hours: 45, months: 12, ceiling: 67.5 };
    }
    if (i === 41) await this.mark(`F-${STOPPED}`, false, 'a scratch, no crack');
    if (i === 48) {
      const weights = { smooth: 0.6, typical: 1.1, rough: 2.2 };
      await store.write((tx) => setWeights(tx, weights, flow.entry));
      this.pencil.weights = weights;
    }
  }

  /** Hours that were typed for the wrong bike are taken back. */
  async #takeBack(n: number): Promise<void> {
    const { id, start } = this.#hours.get(n)!;
    await this.world.store.write((tx) => voidFact(tx, id, 'not this bike', this.world.flow.entry));
    this.pencil.known(n, this.at).find((one) => one.start === start)!.gone = this.at;
  }
}
