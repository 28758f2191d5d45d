/** A name that was typed wrong: everything stays with what it names, and whoever knows the old name finds it. */
import { beforeEach, describe, expect, it } from 'vitest';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { ImportRefused } from '../../../src/flow/carry/importLedger.js';
import { rename } from '../../../src/flow/facts/rename.js';
import { listUnitStory } from '../../../src/flow/facts/unitStory.js';
import { listNames } from '../../../src/flow/names.js';
import { openFolderMeanings } from '../../../src/flow/take/folderMeaning.js';
import type { HandleKind } from '../../../src/ports/handles.js';
import { inWords } from '../../fixtures/inWords.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';
const document = {
  ...DOCUMENT,
  bikes: [...DOCUMENT.bikes, { id: 'b2', rider: null, name: 'Bike two', type: 'trail' }],
  units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', serial: 'SN-2' }],
  services: [{ unit: 'F-1', serviceKind: 'lower-leg', on: '2025-06-01' }],
  hours: [{ bike: 'b1', on: '2025-06-02', minutes: 90, ground: 'typical' }],
};
let world: FlowWorld;

const find = (kind: HandleKind, name: string): Promise<string | undefined> =>
  world.deps.store.read((tx) => tx.handles.find(kind, name));

async function call(kind: HandleKind, from: string, to: string): Promise<string> {
  return world.deps.store.write(async (tx) => {
    const id = await tx.handles.find(kind, from);
    const fact = (await tx.facts.current(kind, id!))!;
    return rename(tx, fact.id, to, { ...world.entry, why: 'the label says so' });
  });
}

const countFacts = (): Promise<number> => world.deps.store.read((tx) => tx.facts.count());

beforeEach(async () => {
  world = await FlowWorld.open(NOON, document);
});

describe('a unit', () => {
  it('keeps its hours, its period and its mails; its book tells the old tag, who changed it and why', async () => {
    await world.take(rideFile('2025-06-10T08:00:00Z', 60), { bike: 'b1' });
    const { unitId, ...before } = await world.due('F-1');
    await call('unit', 'F-1', 'F-0001');
    const { unitId: sameId, ...after } = await world.due('F-0001');
    expect(sameId).toBe(unitId);
    expect(after).toEqual({ ...before, unit: 'F-0001' });
    expect(after.movingHoursSince).toBe(2.5);
    expect(await find('unit', 'F-1')).toBe(unitId);
    const story = await world.deps.store.read((tx) => listUnitStory(tx, unitId));
    const told = story.filter((line) => line.kind === 'unit').map(({ row, why, by }) => [row.tag, why, by]);
    expect(told).toEqual([
      ['F-1', null, 'test'],
      ['F-0001', 'the label says so', 'test'],
    ]);
    expect(story.find((line) => line.kind === 'service')).toMatchObject({ row: { unit: 'F-0001' } });
    await world.expectSound();
  });

  it('takes no tag that another has, nor what cannot be one', async () => {
    await expect(inWords(call('unit', 'F-1', 'F-2'))).rejects.toThrow(/Another unit is already called "F-2"/);
    await expect(inWords(call('unit', 'F-1', 'f-2'))).rejects.toThrow(
      /"f-2" differs only in capital letters/,
    );
    await expect(inWords(call('unit', 'F-1', '../F-2'))).rejects.toThrow(/cannot be a name/);
    await expect(inWords(call('unit', 'F-1', 'F-1'))).rejects.toThrow(/what it says already/);
    expect((await world.due('F-1')).movingHoursSince).toBe(1.5);
  });

  it('of two whose tags were mixed up each gets its own', async () => {
    const [one, two] = [await find('unit', 'F-1'), await find('unit', 'F-2')];
    await call('unit', 'F-1', 'F-x');
    await call('unit', 'F-2', 'F-1');
    await call('unit', 'F-x', 'F-2');
    expect([await find('unit', 'F-1'), await find('unit', 'F-2')]).toEqual([two, one]);
    expect((await world.due('F-2')).movingHoursSince).toBe(1.5);
    await world.expectSound();
  });

  it('is found by the file of before, which adds nothing; another row under its old tag is asked about', async () => {
    await call('unit', 'F-1', 'F-0001');
    const before = await countFacts();
    await world.import(document);
    expect(await countFacts()).toBe(before);
    expect((await world.due('F-0001')).movingHoursSince).toBe(1.5);
    const other = { tag: 'F-1', unitKind: 'fork', serial: 'SN-9', history: 'new' };
    await expect(inWords(world.import({ units: [other] }))).rejects.toThrow(
      /"F-1" is what unit "F-0001" was called before/,
    );
    await expect(world.import({ units: [other] })).rejects.toBeInstanceOf(ImportRefused);
    // A service book that still says the old tag is meant for it.
    await world.import({ services: [{ unit: 'F-1', serviceKind: 'damper', on: '2025-06-11' }] });
    expect((await world.due('F-0001', 'damper')).movingHoursSince).toBe(0);
  });

  it('of two editors one is refused and told who was first', async () => {
    const fact = await world.deps.store.read(async (tx) => (await tx.facts.list('unit'))[0]!);
    const entry = { by: 'Ada', at: world.entry.at, why: 'x' };
    await world.deps.store.write((tx) => rename(tx, fact.id, 'F-7', entry));
    await expect(
      inWords(world.deps.store.write((tx) => rename(tx, fact.id, 'F-8', { ...entry, by: 'Bo' }))),
    ).rejects.toMatchObject({ code: 'already-replaced', by: 'Ada' });
    expect(await find('unit', 'F-8')).toBeUndefined();
  });
});

describe('a bike and a rider', () => {
  it('keep their rides, and their folders of before still mean them', async () => {
    await world.take(rideFile('2025-06-10T08:00:00Z', 60), { bike: 'b1' });
    const [bikeId, riderId] = [await find('bike', 'b1'), await find('rider', 'r1')];
    await call('bike', 'b1', 'green');
    await call('rider', 'r1', 'pia');
    expect(await world.due('F-1')).toMatchObject({ bike: 'green', rider: 'pia', movingHoursSince: 2.5 });
    const means = await world.deps.store.read(openFolderMeanings);
    for (const path of ['r1/b1/a.fit', 'pia/green/a.fit', 'r1/green/a.fit'])
      expect(means(path)).toEqual({ riderId, bikeId, rule: 'subfolder', stray: null });
    const contact = await world.deps.store.read((tx) => tx.contacts.find(riderId!));
    expect(contact).toMatchObject({
      name: 'Rider One',
      email: 'r1@example.org',
      confirmedAt: expect.any(Number),
    });
    await world.expectSound();
  });

  it('are forgotten by every name they had', async () => {
    await call('rider', 'r1', 'pia');
    const riderId = (await find('rider', 'pia'))!;
    expect(await world.deps.store.read((tx) => listNames(tx, 'rider', riderId))).toEqual(['r1', 'pia']);
    await world.deps.store.write((tx) => forgetRider(tx, riderId, world.entry.at));
    const names = await world.deps.store.read((tx) => listNames(tx, 'rider', riderId));
    expect(names).toEqual([`forgotten-${riderId}`]);
    expect([await find('rider', 'r1'), await find('rider', 'pia')]).toEqual([undefined, undefined]);
  });
});

it('an export of before and one of after come to the same names, in either order', async () => {
  const rows = async () => {
    const all: unknown[] = [];
    await world.deps.store.read(async (tx) => {
      for await (const row of tx.copies.rows('handle')) all.push(row);
    });
    return all;
  };
  const before = await rows();
  await call('unit', 'F-1', 'F-0001');
  const after = await rows();
  const add = (all: readonly unknown[]) =>
    world.deps.store.write(async (tx) => {
      const news: boolean[] = [];
      for (const row of all) news.push(await tx.copies.add('handle', row as Record<string, unknown>));
      return news.includes(true);
    });
  expect(await add(before)).toBe(false);
  expect(await rows()).toEqual(after);
  await call('unit', 'F-0001', 'F-1');
  const again = await rows();
  expect(await add(after)).toBe(false);
  expect(await rows()).toEqual(again);
  expect(await world.deps.store.read((tx) => tx.handles.all('unit'))).toEqual(
    new Map([
      [await find('unit', 'F-2'), 'F-2'],
      [await find('unit', 'F-1'), 'F-1'],
    ]),
  );
});
