/** Units on bikes: swaps, boxes, days and times. */
import { describe, expect, it } from 'vitest';
import { afterLastRideOf } from '../../../src/core/ledger/moment.js';
import { listDue } from '../../../src/flow/due/listDue.js';
import { replaceFact } from '../../../src/flow/facts/changeFact.js';
import { markUnit } from '../../../src/flow/facts/enterFacts.js';
import { addFitting, endFitting, fitUnit, swapUnits } from '../../../src/flow/fittings/fittings.js';
import { withMovedRides } from '../../../src/flow/fittings/movedRides.js';
import { setGone } from '../../../src/flow/fittings/whereabouts.js';
import { day, isoTime, moment } from '../../../src/units.js';
import { inWords } from '../../fixtures/inWords.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';
const ZONE = 'Europe/Lisbon';

/** F-1 on b1, F-2 on b2, F-3 in its box, an air shock on b1. */
const TWO_BIKES = {
  ...DOCUMENT,
  bikes: ['b1', 'b2'].map((id) => ({ id, rider: 'r1', name: `Bike ${id}`, type: 'trail' })),
  units: [
    ...['F-1', 'F-2', 'F-3'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' })),
    { tag: 'A-1', unitKind: 'air-shock', history: 'new' },
  ],
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2025-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2025-01-01' },
    { unit: 'A-1', bike: 'b1', from: '2025-01-01' },
  ],
};

const ride = (world: FlowWorld, start: string, bike = 'b1') =>
  world.take(rideFile(start, 60), { bike, name: start });

const swap = async (world: FlowWorld, one: string, other: string, at: string) => {
  const ids = [await world.id('unit', one), await world.id('unit', other)] as const;
  return world.deps.store.write((tx) => swapUnits(tx, ids, moment(at), world.entry));
};

const moving = async (world: FlowWorld, ...tags: string[]): Promise<number[]> => {
  const hours: number[] = [];
  for (const tag of tags)
    hours.push((await world.due(tag, tag.startsWith('A') ? 'full' : 'lower-leg')).movingHoursSince);
  return hours;
};

const factsIn = (world: FlowWorld): Promise<number> => world.deps.store.read((tx) => tx.facts.count());

describe('a swap', () => {
  it('moves both units at a moment, and a ride goes whole to what was on at its start', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await ride(world, '2025-06-10T08:00:00Z');
    await ride(world, '2025-06-10T10:00:00Z');
    await swap(world, 'F-1', 'F-2', '2025-06-10T08:30:00Z');
    expect(await moving(world, 'F-1', 'F-2', 'A-1')).toEqual([1, 1, 2]);
    expect([(await world.due('F-1')).bike, (await world.due('F-2')).bike]).toEqual(['b2', 'b1']);
    await world.expectSound();
  });

  it('takes one unit out of its box and puts the other in', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await swap(world, 'F-3', 'F-1', '2025-06-10');
    await ride(world, '2025-06-10T08:00:00Z');
    expect([(await world.due('F-3')).bike, (await world.due('F-1')).bike]).toEqual(['b1', null]);
    expect(await moving(world, 'F-1', 'F-3')).toEqual([0, 1]);
    await world.expectSound();
  });

  it('is done on both or on neither', async () => {
    const fittings = [
      ...TWO_BIKES.fittings.filter((one) => one.unit !== 'F-2'),
      { unit: 'F-2', bike: 'b2', from: '2025-01-01', to: '2025-06-12' },
      { unit: 'F-3', bike: 'b2', from: '2025-06-12' },
    ];
    const world = await FlowWorld.open(NOON, { ...TWO_BIKES, fittings });
    const before = await factsIn(world);
    for (const [one, other, at, said] of [
      ['F-1', 'F-1', '2025-06-10', /cannot be swapped with itself/],
      ['F-1', 'A-1', '2025-06-10', /F-1 is a fork and A-1 a rear shock/],
      ['F-1', 'F-3', '2025-06-12', /F-3 was fitted at that very time/],
      ['F-1', 'F-3', '2019-01-01', /Neither of the two units is on a bike/],
    ] as const)
      await expect(inWords(swap(world, one, other, at)), `${one} ${other} ${at}`).rejects.toThrow(said);
    expect(await factsIn(world)).toBe(before);
    expect([(await world.due('F-1')).bike, (await world.due('F-3')).bike]).toEqual(['b1', 'b2']);
    await world.expectSound();
  });
});

describe('a swap that is entered late', () => {
  const late = {
    ...TWO_BIKES,
    fittings: [
      ...TWO_BIKES.fittings.filter((one) => one.unit !== 'F-2'),
      { unit: 'F-2', bike: 'b2', from: '2025-01-01', to: '2025-06-12' },
      { unit: 'F-3', bike: 'b2', from: '2025-06-12' },
    ],
  };

  it('leaves the later one as it was said, which takes off whatever is on the bike then', async () => {
    const world = await FlowWorld.open(NOON, late);
    for (const on of ['05-01', '06-11', '06-14'])
      for (const [bike, hour] of [
        ['b1', '08'],
        ['b2', '15'],
      ])
        await ride(world, `2025-${on}T${hour}:00:00Z`, bike);
    await swap(world, 'F-1', 'F-2', '2025-06-10');
    // F-1 on b1, then b2 until F-3 goes on; F-2 on b2, then b1 from then on.
    expect(await moving(world, 'F-1', 'F-2', 'F-3')).toEqual([2, 3, 1]);
    expect([(await world.due('F-1')).bike, (await world.due('F-2')).bike]).toEqual([null, 'b1']);
    await world.expectSound();
  });

  it('is taken back to the letter, although what it put on leaves earlier', async () => {
    const world = await FlowWorld.open(NOON, late);
    const fittings = () =>
      world.deps.store.read(async (tx) =>
        (await tx.facts.list('fitting')).map(({ body: { from, to, unitId } }) => ({ from, to, unitId })),
      );
    const before = await fittings();
    await swap(world, 'F-1', 'F-3', '2025-06-10');
    expect(await fittings()).not.toEqual(before);
    await swap(world, 'F-1', 'F-3', '2025-06-10');
    expect(await fittings()).toEqual(before);
    await world.expectSound();
  });

  it('says which rides change unit, and which fall on none', async () => {
    const world = await FlowWorld.open(NOON, late);
    const starts = ['2025-06-09T08:00:00Z', '2025-06-11T08:00:00Z', '2025-06-14T08:00:00Z'];
    for (const start of starts) await ride(world, start);
    const ids = [await world.id('unit', 'F-1'), await world.id('unit', 'F-3')] as const;
    const { rides } = await world.deps.store.write((tx) =>
      withMovedRides(tx, { unitIds: ids }, () => swapUnits(tx, ids, moment('2025-06-10'), world.entry)),
    );
    expect(rides.map(({ start, bike, from, to }) => ({ start: isoTime(start), bike, from, to }))).toEqual([
      { start: starts[1], bike: 'b1', from: 'F-1', to: 'F-3' },
      // F-3 is said to be on b2 from the 12th on.
      { start: starts[2], bike: 'b1', from: 'F-1', to: null },
    ]);
  });
});

describe('a unit that is gone', () => {
  const gone = async (world: FlowWorld, tag: string, how: 'sold' | 'stolen' | 'back', on: string) => {
    const unitId = await world.id('unit', tag);
    return world.deps.store.write((tx) => setGone(tx, { unitId, how, on: day(on) }, world.entry));
  };
  const listed = (world: FlowWorld) =>
    world.deps.store.read(async (tx) => [
      ...new Set((await listDue(tx, world.entry.at)).map(({ unit }) => unit)),
    ]);

  it('is off its bike after that day, due no more, and may come back with its hours', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    for (const on of ['06-10', '06-12']) await ride(world, `2025-${on}T08:00:00Z`);
    await gone(world, 'F-1', 'sold', '2025-06-10');
    expect(await listed(world)).not.toContain('F-1');
    await world.expectSound();
    await gone(world, 'F-1', 'back', '2025-06-15');
    expect(await moving(world, 'F-1')).toEqual([1]);
    await world.expectSound();
  });

  it('goes on no bike meanwhile, by a fitting, a swap or an earlier fitting that goes on', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await gone(world, 'F-3', 'stolen', '2025-06-10');
    await expect(inWords(swap(world, 'F-1', 'F-3', '2025-06-12'))).rejects.toThrow(
      /gone since 2025-06-10: stolen/,
    );
    await expect(inWords(swap(world, 'F-1', 'F-3', '2025-06-01'))).rejects.toThrow(/gone since/);
    await expect(inWords(gone(world, 'F-3', 'sold', '2025-06-14'))).rejects.toThrow(/gone since/);
    await expect(inWords(gone(world, 'F-2', 'back', '2025-06-14'))).rejects.toThrow(/not gone/);
    await expect(inWords(gone(world, 'F-2', 'sold', '2025-06-19'))).rejects.toThrow(/in the future/);
    await swap(world, 'F-1', 'F-2', '2025-06-12');
    await expect(inWords(gone(world, 'F-2', 'sold', '2025-06-11'))).rejects.toThrow(/after that day/);
    await world.expectSound();
  });
});

describe('a swap after the last ride of a day', () => {
  const places = async (world: FlowWorld): Promise<(string | null)[]> => [
    (await world.due('F-1')).bike,
    (await world.due('F-2')).bike,
  ];

  it('of today is seen at once, and rides of today that come later are of the unit that was on before', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await ride(world, '2025-06-18T08:00:00Z');
    await swap(world, 'F-1', 'F-2', afterLastRideOf(day('2025-06-18'), ZONE));
    expect(await places(world)).toEqual(['b2', 'b1']);
    world.now = '2025-06-19T12:00:00Z';
    await ride(world, '2025-06-18T10:00:00Z');
    await ride(world, '2025-06-18T21:30:00Z');
    await ride(world, '2025-06-18T23:00:00Z');
    expect(await moving(world, 'F-1', 'F-2')).toEqual([3, 1]);
    expect(await places(world)).toEqual(['b2', 'b1']);
    await world.expectSound();
  });

  it('that is typed ahead is seen when that day is over', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await swap(world, 'F-1', 'F-2', afterLastRideOf(day('2025-06-19'), ZONE));
    expect(await places(world)).toEqual(['b1', 'b2']);
    world.now = '2025-06-19T12:00:00Z';
    expect(await places(world)).toEqual(['b1', 'b2']);
    world.now = '2025-06-20T00:00:00Z';
    expect(await places(world)).toEqual(['b2', 'b1']);
  });
});

describe('the same swap once more', () => {
  it.each([
    ['of two bikes', 'F-2', '2025-06-10'],
    ['with a box', 'F-3', '2025-06-10'],
    ['after the last ride of today', 'F-2', afterLastRideOf(day('2025-06-18'), ZONE)],
  ])('takes it back: %s', async (_, other, at) => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await ride(world, '2025-06-12T08:00:00Z');
    const before = [await world.due('F-1'), await world.due(other)];
    expect(await swap(world, 'F-1', other, at)).toMatchObject({ isBack: false });
    expect([await world.due('F-1'), await world.due(other)]).not.toEqual(before);
    expect(await swap(world, other, 'F-1', at)).toMatchObject({ isBack: true });
    expect([await world.due('F-1'), await world.due(other)]).toEqual(before);
    await world.expectSound();
    // And the right one can be done at that moment.
    await swap(world, 'F-1', other === 'F-2' ? 'F-3' : 'F-2', at);
    await world.expectSound();
  });

  it('is refused where the two did not trade places then', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await swap(world, 'F-1', 'F-2', '2025-06-10');
    await expect(inWords(swap(world, 'F-1', 'F-3', '2025-06-10'))).rejects.toThrow(
      /F-1 was fitted at that very time/,
    );
    expect((await world.due('F-1')).bike).toBe('b2');
  });
});

describe('a box', () => {
  it('stops the hours and not the months', async () => {
    const world = await FlowWorld.open(NOON, {
      ...TWO_BIKES,
      fittings: [{ unit: 'F-1', bike: 'b1', from: '2024-06-18' }],
    });
    await ride(world, '2025-06-10T08:00:00Z');
    const unitId = await world.id('unit', 'F-1');
    await world.deps.store.write((tx) =>
      endFitting(tx, unitId, afterLastRideOf(day('2025-06-10'), ZONE), world.entry),
    );
    await ride(world, '2025-06-11T08:00:00Z');
    expect(await world.due('F-1')).toMatchObject({
      movingHoursSince: 1,
      bike: null,
      state: 'due',
      limit: 'months',
      likely: { p50: '2025-06-18' },
    });
    await world.expectSound();
  });

  it('holds what was on no bike then, and says so', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    const unitId = await world.id('unit', 'F-3');
    await expect(
      inWords(world.deps.store.write((tx) => endFitting(tx, unitId, day('2025-06-01'), world.entry))),
    ).rejects.toThrow('F-3 was on no bike at 2025-06-01.');
  });
});

describe('what overlaps is refused, naming the conflict', () => {
  const putOn = async (
    world: FlowWorld,
    tag: string,
    bike: string,
    from: string,
    to: string | null = null,
  ) => {
    const body = {
      unitId: await world.id('unit', tag),
      bikeId: await world.id('bike', bike),
      from: moment(from),
      to: to === null ? null : moment(to),
    };
    return world.deps.store.write((tx) => addFitting(tx, body, world.entry));
  };

  it('one unit on two bikes, two forks on one, an end before its beginning', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    await expect(inWords(putOn(world, 'F-1', 'b2', '2025-03-01'))).rejects.toThrow(
      'F-1 is on bike b1 from 2025-01-01T00:00:00Z on.',
    );
    await expect(inWords(putOn(world, 'F-3', 'b1', '2025-03-01'))).rejects.toThrow(
      'Bike b1 has F-1 as its fork from 2025-01-01T00:00:00Z on.',
    );
    await expect(inWords(putOn(world, 'F-3', 'b1', '2024-12-31', '2025-01-02'))).rejects.toThrow(
      /Bike b1 has F-1/,
    );
    await expect(inWords(putOn(world, 'F-3', 'b1', '2024-12-01', '2024-11-30'))).rejects.toThrow(
      /must end after it begins/,
    );
    // Half open: one may end at the moment at which the next begins.
    await putOn(world, 'F-3', 'b1', '2024-12-01', '2025-01-01');
    await world.expectSound();
  });
});

describe('a fitting that begins far ahead', () => {
  const bodyFrom = async (world: FlowWorld, from: string) => ({
    unitId: await world.id('unit', 'F-3'),
    bikeId: await world.id('bike', 'b2'),
    from: moment(from),
    to: null,
  });

  it('is refused, also by a swap and by a correction; one planned for the week is taken', async () => {
    const world = await FlowWorld.open(NOON, { ...TWO_BIKES, fittings: DOCUMENT.fittings });
    const add = async (from: string) => {
      const body = await bodyFrom(world, from);
      return world.deps.store.write((tx) => addFitting(tx, body, world.entry));
    };
    await expect(inWords(add('2027-03-01'))).rejects.toThrow(
      '2027-03-01 is too far ahead: a fitting is entered at most',
    );
    await expect(inWords(add('2025-06-25T23:00:00Z'))).rejects.toThrow(/is too far ahead/);
    const factId = await add('2025-06-25T22:59:00Z');
    const body = await bodyFrom(world, '2025-06-26');
    await expect(
      inWords(
        world.deps.store.write((tx) => replaceFact(tx, factId, { kind: 'fitting', body }, world.entry)),
      ),
    ).rejects.toThrow(/is too far ahead/);
    const units = [await world.id('unit', 'F-1'), await world.id('unit', 'F-3')] as const;
    await expect(
      inWords(world.deps.store.write((tx) => swapUnits(tx, units, day('2025-06-26'), world.entry))),
    ).rejects.toThrow(/is too far ahead/);
    await world.expectSound();
  });

  it('that was stored before may still be ended; what clashes with it names the cure', async () => {
    const world = await FlowWorld.open('2027-03-02T12:00:00Z', { ...TWO_BIKES, fittings: [] });
    const body = await bodyFrom(world, '2027-03-01');
    const factId = await world.deps.store.write((tx) => addFitting(tx, body, world.entry));
    world.now = NOON;
    const early = { ...body, from: day('2025-03-01') };
    const clashing = world.deps.store.write((tx) => addFitting(tx, early, world.entry));
    await expect(inWords(clashing)).rejects.toMatchObject({
      hint: expect.stringMatching(/correct it in the service book/),
    });
    const ended = { ...body, to: day('2027-03-02') };
    await world.deps.store.write((tx) =>
      replaceFact(tx, factId, { kind: 'fitting', body: ended }, world.entry),
    );
    await world.expectSound();
  });
});

describe('days of 23 and 25 hours', () => {
  it.each(['2025-03-30', '2025-10-26'])('%s is one day, from its start to the next', async (changeDay) => {
    const world = await FlowWorld.open('2025-11-18T12:00:00Z', { ...TWO_BIKES, fittings: [] });
    const unitId = await world.id('unit', 'F-1');
    const body = {
      unitId,
      bikeId: await world.id('bike', 'b1'),
      from: day(changeDay),
      to: afterLastRideOf(day(changeDay), ZONE),
    };
    await world.deps.store.write((tx) => addFitting(tx, body, world.entry));
    // Lisbon is an hour ahead of UTC in summer: its days then begin and end at 23:00 UTC.
    const isSpring = changeDay === '2025-03-30';
    const [begin, end] = isSpring
      ? ['2025-03-30T00:00:00Z', '2025-03-30T23:00:00Z']
      : ['2025-10-25T23:00:00Z', '2025-10-27T00:00:00Z'];
    const minute = (at: string, by: number): string => new Date(Date.parse(at) + by * 60_000).toISOString();
    await ride(world, minute(begin, -61));
    await ride(world, minute(begin, 0));
    await ride(world, minute(end, -1));
    expect(await moving(world, 'F-1')).toEqual([2]);
    await ride(world, minute(end, 60));
    expect(await moving(world, 'F-1')).toEqual([2]);
    await world.expectSound();
  });
});

describe('a unit that is marked “stop riding”', () => {
  it('goes on a bike only by a plain word, also by a swap', async () => {
    const world = await FlowWorld.open(NOON, { ...TWO_BIKES, fittings: DOCUMENT.fittings });
    const { store } = world.deps;
    const [on, spare] = [await world.id('unit', 'F-1'), await world.id('unit', 'F-3')] as const;
    await store.write((tx) => markUnit(tx, spare, true, 'creaks', world.entry));
    const swap = (isSure: boolean) =>
      store.write((tx) => swapUnits(tx, [on, spare], day('2025-06-20'), world.entry, { isSure }));
    await expect(inWords(swap(false))).rejects.toThrow(/F-3 is marked “stop riding” \(creaks\)/);
    const bikeId = await world.id('bike', 'b2');
    const body = { unitId: spare, bikeId, from: day('2025-06-20'), to: null };
    await expect(inWords(store.write((tx) => fitUnit(tx, body, false, world.entry)))).rejects.toThrow(/mark/);
    expect((await swap(true)).isBack).toBe(false);
    await world.expectSound();
  });
});
