import { beforeEach, describe, expect, it } from 'vitest';
import type { FactBodies, FactKind } from '../../../src/core/ledger/facts.js';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { FlowWorld, WORKSHOP } from '../flowWorld.js';

const DAY = '2026-03-10';
const OTHERS = 'dark oil of Rider Two, and a zoe of another';

/** Two riders; the first has a bike and a fork that are called after her. */
const document = {
  workshop: WORKSHOP,
  riders: [
    { id: 'zoe', name: 'Zoe Mill', email: 'zoe@example.org', phone: '+000 555 0100' },
    { id: 'r2', name: 'Rider Two', email: 'r2@example.org' },
  ],
  bikes: [
    { id: 'zoe-trail', rider: 'zoe', name: 'Mill’s trail bike', type: 'trail' },
    { id: 'b2', rider: 'r2', name: 'Bike two', type: 'trail' },
    { id: 'b3', rider: 'zoe', name: 'Zoe’s other bike', type: 'trail' },
  ],
  units: [
    { tag: 'zoe-fork', unitKind: 'fork', history: 'new' },
    { tag: 'F-2', unitKind: 'fork', history: 'new' },
  ],
  fittings: [
    { unit: 'zoe-fork', bike: 'zoe-trail', from: '2026-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2026-01-01' },
  ],
};

describe('forgetting what people typed of a rider', () => {
  let world: FlowWorld;
  let own = '';
  let others = '';

  const add = <K extends FactKind>(kind: K, body: object) =>
    world.deps.store.write((tx) => tx.facts.add({ kind, body: body as FactBodies[K], ...world.entry }));
  const rows = (of: 'fact' | 'erasure') =>
    world.deps.store.read(async (tx) => {
      const all: Readonly<Record<string, unknown>>[] = [];
      for await (const row of tx.copies.rows(of)) all.push(row);
      return all;
    });
  const forget = async () => {
    const id = await world.id('rider', 'zoe');
    return world.deps.store.write((tx) => forgetRider(tx, id, world.entry.at));
  };

  beforeEach(async () => {
    world = await FlowWorld.open(`${DAY}T12:00:00Z`, document);
    own = await world.id('unit', 'zoe-fork');
    others = await world.id('unit', 'F-2');
    const set = { stage: 'kept', on: DAY, values: { kitWeight: '81,5', sag: '25' } };
    await add('setUp', { ...set, unitId: own, name: 'At the mill by the river' });
    await add('setUp', { ...set, unitId: others, name: 'Home', values: { kitWeight: '70', sag: '25' } });
    await add('heard', {
      unitId: own,
      serviceKind: 'lower-leg',
      on: DAY,
      isWell: false,
      what: 'ask at my office',
    });
    const job = {
      step: 'arrived',
      arrivedOn: DAY,
      promisedFor: null,
      price: null,
      missing: null,
      informedBy: null,
    };
    await add('job', { ...job, unitId: own, wish: 'softer, I broke my wrist' });
    await add('job', { ...job, unitId: others, wish: OTHERS });
    await add('mark', { unitId: others, since: DAY, until: null, why: 'seen by Zoe Mill, +000 555-0100' });
  });

  it('leaves none of it in any version of any fact, and every hour', async () => {
    await world.take(new TextEncoder().encode(JSON.stringify({ start: `${DAY}T08:00:00Z`, minutes: 60 })), {
      rider: 'zoe',
      bike: 'zoe-trail',
    });
    const before = await world.due('zoe-fork');
    expect((await forget()).erased).toBeGreaterThan(5);
    const text = JSON.stringify(await Promise.all([rows('fact'), rows('erasure')]));
    expect(text).not.toMatch(/zoe[ -](?!of)|mill|0100|81,5|office|wrist|river/i);
    expect(text).toContain(OTHERS);
    expect(text).toContain('"name":"Home"');
    expect(await world.due(`unit-${own}`)).toMatchObject({ terrainHoursSince: before.terrainHoursSince });
    await world.expectSound();
  });

  it('keeps what is others’, in the same facts', async () => {
    await forget();
    const found = (await rows('fact')).filter(({ kind }) => kind === 'setUp');
    expect(found.map(({ body }) => body)).toMatchObject([
      { name: '…', values: { sag: '25' } },
      { name: 'Home', values: { kitWeight: '70', sag: '25' } },
    ]);
    expect((await rows('fact')).find(({ kind }) => kind === 'mark')!.body).toMatchObject({
      why: 'seen by …, +…',
    });
  });

  it('finds bike and unit by names that say nothing', async () => {
    await forget();
    const found = (word: string) => world.deps.store.read((tx) => tx.findWords.find([word], 9));
    expect(await found('zoe')).toEqual([]);
    expect(await found('mill')).toEqual([]);
    expect(await found('f2')).toMatchObject([{ kind: 'unit' }]);
    expect(await world.deps.store.read((tx) => tx.handles.find('unit', 'zoe-fork'))).toBeUndefined();
  });

  it('does not bring it back with an export from before', async () => {
    const before = await rows('fact');
    await forget();
    const after = await rows('fact');
    await world.deps.store.write(async (tx) => {
      for (const row of before) expect(await tx.copies.add('fact', row)).toBe(false);
    });
    expect(await rows('fact')).toEqual(after);
  });

  it('erases it in a store that had it, when the erasure comes', async () => {
    const before = await rows('fact');
    await forget();
    const [erased, after] = [await rows('erasure'), await rows('fact')];
    const second = await FlowWorld.open(`${DAY}T12:00:00Z`, {
      ...document,
      riders: [],
      bikes: [],
      units: [],
      fittings: [],
    });
    const [workshop] = before.filter(({ kind }) => kind === 'workshop');
    await second.deps.store.write(async (tx) => {
      for (const row of before) if (row.id !== workshop!.id) await tx.copies.add('fact', row);
      for (const row of erased) await tx.copies.add('erasure', row);
    });
    const there: unknown[] = [];
    await second.deps.store.read(async (tx) => {
      for await (const { id, body } of tx.copies.rows('fact')) there.push([id, body]);
    });
    for (const { id, body } of after) if (id !== workshop!.id) expect(there).toContainEqual([id, body]);
  });
});
