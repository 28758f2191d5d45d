/** Many random deliveries through the real store and flow: their order, splitting and repeating change no hour. */
import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ServiceError } from '../../../src/errors.js';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import type { TrayAnswer } from '../../../src/flow/rides/joinWords.js';
import type { HandedOver } from '../../../src/flow/take/ingestFile.js';
import { runs } from '../../fixtures/runs.js';
import { FlowWorld, rideFile, WORKSHOP } from '../flowWorld.js';

/** A bike as a word on a file: `strange` is a folder that is no bike. */
const word = fc.constantFrom(
  null,
  null,
  { bike: 'b1', rule: 'chosen' as const },
  { bike: 'b1', rule: 'subfolder' as const },
  { bike: 'b3', rule: 'subfolder' as const },
  { bike: 'strange', rule: 'subfolder' as const },
);

const file = fc.record({
  isLate: fc.boolean(),
  quarter: fc.integer({ min: 0, max: 60 }),
  quarters: fc.integer({ min: 1, max: 6 }),
  rider: fc.constantFrom('r1', 'r1', 'r1', 'r2', null),
  words: fc.array(word, { minLength: 1, maxLength: 2 }),
  sensor: fc.constantFrom('speed:1', 'speed:2', null),
  damage: fc.constantFrom(null, null, null, 'cut-off' as const),
  loopM: fc.constantFrom(undefined, undefined, 5000),
  subSport: fc.constantFrom(null, null, 'mountain', 'road'),
});
type File = typeof file extends fc.Arbitrary<infer T> ? T : never;

const answer = fc.record({
  of: fc.nat(5),
  says: fc.constantFrom<'b1' | 'b2' | 'r2' | 'yes' | 'no'>('b1', 'b2', 'r2', 'yes', 'no'),
});

const delivery = fc.record({
  files: fc.array(file, { minLength: 2, maxLength: 6 }),
  answers: fc.array(answer, { maxLength: 3 }),
  later: fc.constantFrom('trail', 'road', null),
  order: fc.array(fc.nat(), { minLength: 12, maxLength: 12 }),
});
type Delivery = typeof delivery extends fc.Arbitrary<infer T> ? T : never;

/** Two riders whom nobody else knows, so that one store serves every delivery. */
const outfit = (tag: string) => ({
  riders: ['r1', 'r2'].map((id) => ({ id: tag + id, name: tag + id, email: `${tag}${id}@example.org` })),
  bikes: [
    { id: `${tag}b1`, rider: `${tag}r1`, name: 'Bike one', type: 'trail' },
    { id: `${tag}b3`, rider: `${tag}r2`, name: 'Bike three', type: 'trail' },
  ],
  units: ['F1', 'F3'].map((id) => ({ tag: tag + id, unitKind: 'fork', history: 'new' })),
  fittings: [
    { unit: `${tag}F1`, bike: `${tag}b1`, from: '2020-01-01' },
    { unit: `${tag}F3`, bike: `${tag}b3`, from: '2020-01-01' },
  ],
});

const laterBike = (tag: string, type: string) => ({
  bikes: [{ id: `${tag}b2`, rider: `${tag}r1`, name: 'Bike two', type }],
  units: [{ tag: `${tag}F2`, unitKind: 'fork', history: 'new' }],
  fittings: type === 'road' ? [] : [{ unit: `${tag}F2`, bike: `${tag}b2`, from: '2020-01-01' }],
});

const RUNS = runs(60, 8);

class Delivered {
  readonly #hashOf = new Map<number, string>();
  constructor(
    readonly world: FlowWorld,
    readonly tag: string,
    readonly sent: Delivery,
  ) {}

  async give(indexes: readonly number[], name: string): Promise<void> {
    for (const i of indexes) for (const said of this.sent.files[i]!.words) await this.#hand(i, said, name);
  }

  async #hand(i: number, said: File['words'][number], name: string): Promise<void> {
    const { rider, quarter, quarters, sensor, damage, loopM, subSport } = this.sent.files[i]!;
    const start = new Date(Date.parse('2025-06-10T05:00:00Z') + quarter * 900_000).toISOString();
    const sensors = sensor === null ? [] : [{ id: this.tag + sensor, boundTo: 'bike' as const }];
    const looped = loopM === undefined ? {} : { loopM };
    const bytes = rideFile(start, quarters * 15, {
      sensors,
      damage,
      subSport,
      ...looped,
      made: this.tag + i,
    });
    const isStrange = said?.bike === 'strange';
    this.#hashOf.set(i, createHash('sha256').update(bytes).digest('hex'));
    await this.world.take(bytes, {
      name: `${name} ${i}.fit`,
      rider: rider === null ? null : this.tag + rider,
      ...(said && !isStrange ? { bike: this.tag + said.bike } : {}),
      rule: (said?.rule ?? null) as HandedOver['rule'],
    });
  }

  /** Returns which answers were refused. */
  async answer(): Promise<boolean[]> {
    const refused: boolean[] = [];
    for (const { of, says } of this.sent.answers) {
      const i = of % this.sent.files.length;
      const { deps, entry } = this.world;
      refused.push(
        await deps.store
          .write(async (tx) => {
            const [file] = await tx.files.list(this.#hashOf.get(i)!);
            const [reading] = await tx.readings.listOfFile(file!.id);
            const [ride] = await tx.rides.listOfReadings([reading!.id]);
            await answerTray(tx, ride!.id, await this.#answer(says), entry);
            return false;
          })
          .catch((error: unknown) => {
            if (error instanceof ServiceError && error.code === 'refused') return true;
            throw error;
          }),
      );
    }
    return refused;
  }

  async #answer(says: 'b1' | 'b2' | 'r2' | 'yes' | 'no'): Promise<TrayAnswer> {
    if (says === 'yes' || says === 'no') return { ride: says === 'yes' };
    if (says === 'r2') return { riderId: await this.world.id('rider', this.tag + says) };
    const bike = says === 'b2' && this.sent.later === null ? 'b3' : says;
    return { bikeId: await this.world.id('bike', this.tag + bike) };
  }

  /** What every fork has, and what waits of whom. */
  async come(): Promise<unknown> {
    const { deps } = this.world;
    const tags = ['F1', 'F3', ...(this.sent.later === null ? [] : ['F2'])];
    const unitIds = await Promise.all(tags.map((tag) => this.world.id('unit', this.tag + tag)));
    const riderIds = await Promise.all(['r1', 'r2'].map((rider) => this.world.id('rider', this.tag + rider)));
    return deps.store.read(async (tx) => {
      const forks: unknown[] = [];
      for (const unitId of unitIds) {
        const [standing] = await tx.standings.listOf(unitId);
        forks.push([standing!.movingS, standing!.terrainMs]);
      }
      const own = await tx.rides.listOf({ riderIds, bikeIds: [] });
      const waiting = own.filter((ride) => ride.question !== null && !ride.dismissed);
      return {
        forks,
        waiting: waiting.map((ride) => `${ride.start} ${ride.movingS} ${ride.question}`).sort(),
      };
    });
  }
}

async function deliver(world: FlowWorld, tag: string, sent: Delivery, isShuffled: boolean): Promise<unknown> {
  await world.import(outfit(tag));
  const delivered = new Delivered(world, tag, sent);
  const inOrder = sent.files.map((_, i) => i);
  const shuffled = [...inOrder].sort((a, b) => sent.order[a]! - sent.order[b]! || a - b);
  const indexes = isShuffled ? shuffled : inOrder;
  const early = indexes.filter((i) => !sent.files[i]!.isLate);
  const late = indexes.filter((i) => sent.files[i]!.isLate);
  await delivered.give(early, 'a');
  if (isShuffled) await delivered.give(early.slice(0, 1), 'renamed');
  if (sent.later !== null) await world.import(laterBike(tag, sent.later));
  await delivered.give(late, 'b');
  if (isShuffled) await delivered.give([...late].reverse(), 'again');
  const refused = await delivered.answer();
  return { refused, ...((await delivered.come()) as object) };
}

describe('through the real store', () => {
  it('random deliveries come to the same hours in any order, and the ledger agrees with itself', async () => {
    const world = await FlowWorld.open('2025-06-18T12:00:00Z', { workshop: WORKSHOP });
    let made = 0;
    let waited = 0;
    await fc.assert(
      fc.asyncProperty(delivery, async (sent) => {
        const number = String(++made).padStart(4, '0');
        const inOrder = await deliver(world, `a${number}`, sent, false);
        const shuffled = await deliver(world, `b${number}`, sent, true);
        expect(shuffled).toEqual(inOrder);
        waited += (inOrder as { waiting: string[] }).waiting.length;
      }),
      { numRuns: RUNS, seed: 20250618, endOnFailure: true },
    );
    expect(waited).toBeGreaterThan(RUNS / 6);
    // Forecasts are left stale: they are not what this is about.
    expect(await checkLedger(world.deps.store)).toMatchObject({
      ok: true,
      derivedDifferences: 0,
      faults: [],
    });
  }, 600_000);
});
