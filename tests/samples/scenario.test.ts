import { createHash } from 'node:crypto';
import { Decoder, Stream } from '@garmin/fitsdk';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { makeScenario } from '../../samples/scenario.js';
import { type PlannedRide, seasonOf } from '../../samples/season.js';
import { LEAST_DARK, LEAST_SERVICES } from '../../src/core/ledger/findingsTeach.js';
import { LIMITS, STATES } from '../../src/core/tokens.js';

const TODAY = '2025-06-20';
const scenario = makeScenario(TODAY);
const { document } = scenario;
const season = seasonOf(TODAY);

/** Broken by intent; each shows how a reader answers. */
const BROKEN = ['cut-off', 'checksum', 'unreadable', 'empty', 'not-fit-or-gpx', 'xml-entities'];
const sound = scenario.rides.filter((ride) => !BROKEN.includes(ride.shows ?? ''));

const hash = (all: readonly { path: string; bytes(): Uint8Array }[]): string => {
  const sum = createHash('sha256');
  for (const ride of all) sum.update(ride.path).update(ride.bytes());
  return sum.digest('hex');
};

describe('the ride files', () => {
  it('are as many as a season holds, each by a path of its own, and small', () => {
    const paths = scenario.rides.map((ride) => ride.path);
    expect(new Set(paths).size).toBe(paths.length);
    expect(paths.length).toBeGreaterThanOrEqual(90);
    expect(paths.length).toBeLessThanOrEqual(150);
    expect(scenario.rides.reduce((sum, ride) => sum + ride.bytes().length, 0)).toBeLessThan(25e6);
  });

  it('are whole FIT by the official decoder, with as many records as the recorder wrote', () => {
    const plans = new Map(season.map((ride) => [ride.path, ride]));
    const files = sound.filter((ride) => ride.path.endsWith('.fit'));
    expect(files.length).toBeGreaterThan(60);
    for (const file of files) {
      const decoder = new Decoder(Stream.fromByteArray(file.bytes() as unknown as number[]));
      expect(decoder.checkIntegrity(), file.path).toBe(true);
      const { messages, errors } = decoder.read();
      expect(errors, file.path).toEqual([]);
      expect(messages.fileIdMesgs, file.path).toHaveLength(1);
      const plan = plans.get(file.path);
      if (plan === undefined) continue;
      expect(messages.recordMesgs, file.path).toHaveLength(plan.ridden.timeMs.length);
      expect(messages.sessionMesgs, file.path).toHaveLength(1);
      expect(messages.activityMesgs, file.path).toHaveLength(1);
      expect(messages.eventMesgs?.filter((event) => event.event === 'timer')).toHaveLength(
        2 * plan.ridden.spanStarts.length,
      );
    }
  });

  it('say in FIT where, when, how high, how far and how fast', () => {
    const plan = season.find((ride) => ride.bike === 'b1')!;
    const { messages } = new Decoder(Stream.fromByteArray([...plan.bytes()])).read();
    const i = 100;
    const record = messages.recordMesgs![i]!;
    expect((record.timestamp as Date).getTime()).toBe(plan.ridden.timeMs[i]);
    expect((record.positionLat! * 180) / 2 ** 31).toBeCloseTo(plan.ridden.latDeg[i]!, 6);
    expect((record.positionLong! * 180) / 2 ** 31).toBeCloseTo(plan.ridden.lonDeg[i]!, 6);
    expect(Math.abs(record.altitude! - plan.ridden.eleM[i]!)).toBeLessThanOrEqual(0.1001);
    expect(record.distance).toBeCloseTo(plan.ridden.distM[i]!, 1);
    expect(record.speed).toBeCloseTo(plan.ridden.speedMps[i]!, 2);
    expect(messages.deviceInfoMesgs?.map((device) => device.antDeviceNumber)).toEqual([
      undefined,
      30_417,
      20_611,
    ]);
  });

  it('are well-formed GPX with a segment a span', () => {
    const plans = new Map(season.map((ride) => [ride.path, ride]));
    const files = sound.filter((ride) => ride.path.endsWith('.gpx'));
    expect(files.length).toBeGreaterThan(20);
    for (const file of files) {
      const seen = { trkseg: 0, trkpt: 0 };
      const parser = new SaxesParser({ xmlns: true });
      parser.on('error', (error) => {
        throw error;
      });
      parser.on('opentag', (tag) => {
        if (tag.local === 'trkseg' || tag.local === 'trkpt') seen[tag.local] += 1;
      });
      parser.write(new TextDecoder().decode(file.bytes())).close();
      const plan = plans.get(file.path);
      if (plan === undefined) continue;
      expect(seen, file.path).toEqual({
        trkseg: plan.ridden.spanStarts.length,
        trkpt: plan.ridden.timeMs.length,
      });
    }
  });

  it('are the same bytes for the same day, and others for another', () => {
    expect(hash(makeScenario(TODAY).rides)).toBe(hash(scenario.rides));
    expect(hash(makeScenario('2025-06-21').rides)).not.toBe(hash(scenario.rides));
  });

  it('never put a rider on two bikes at once, except where a file asks about it', () => {
    for (const rider of document.riders) {
      const times = season
        .filter((ride) => ride.path.startsWith(`inbox/${rider.id}/`))
        .map((ride) => [ride.ridden.timeMs[0]!, ride.ridden.timeMs.at(-1)!] as const)
        .sort((a, b) => a[0] - b[0]);
      for (let i = 1; i < times.length; i += 1) expect(times[i]![0]).toBeGreaterThan(times[i - 1]![1]);
    }
  });

  it('lie all before today, but for the one whose clock runs ahead', () => {
    const midnight = Date.parse(`${TODAY}T00:00:00Z`);
    for (const ride of season) expect(ride.ridden.timeMs.at(-1)!).toBeLessThan(midnight);
  });
});

describe('the document', () => {
  it('names only what it holds', () => {
    const riders = new Set(document.riders.map((r) => r.id));
    const bikes = new Set(document.bikes.map((b) => b.id));
    const units = new Set(document.units.map((u) => u.tag));
    for (const bike of document.bikes) if (bike.rider !== null) expect(riders).toContain(bike.rider);
    for (const fitting of document.fittings) {
      expect(bikes).toContain(fitting.bike);
      expect(units).toContain(fitting.unit);
    }
    for (const service of document.services) expect(units).toContain(service.unit);
    for (const row of document.hours) expect(bikes).toContain(row.bike);
    for (const ride of season) expect(bikes).toContain(ride.bike);
    for (const { unit } of scenario.actions) expect(units).toContain(unit);
  });

  it('has no service before its unit came, none in the future, and no fitting over another', () => {
    for (const service of document.services) {
      const came = document.fittings.filter((f) => f.unit === service.unit).map((f) => f.from);
      expect(service.on > came.sort()[0]!, `${service.unit} ${service.on}`).toBe(true);
      expect(service.on <= TODAY).toBe(true);
    }
    for (const a of document.fittings) {
      for (const b of document.fittings) {
        if (a === b || a.bike !== b.bike || a.unit[0] !== b.unit[0]) continue;
        expect(a.to !== null ? a.to <= b.from : b.to !== null && b.to <= a.from).toBe(true);
      }
    }
  });

  it('has a race on a Saturday some three weeks off, and findings enough to learn from', () => {
    const [race] = document.races;
    expect(new Date(`${race!.on}T00:00:00Z`).getUTCDay()).toBe(6);
    const ahead = (Date.parse(race!.on) - Date.parse(TODAY)) / 86_400_000;
    expect([ahead >= 19, ahead <= 25]).toEqual([true, true]);
    const rings = document.services.flatMap((service) => service.findings?.foamRings ?? []);
    expect(rings.length).toBeGreaterThanOrEqual(LEAST_SERVICES);
    expect(rings.filter((one) => one === 'dark').length).toBeGreaterThanOrEqual(LEAST_DARK);
  });

  it('writes to nobody real', () => {
    for (const rider of document.riders) expect(rider.email).toMatch(/@example\.org$/);
  });
});

describe('the story', () => {
  it('tells of every state and of every limit', () => {
    const states = new Set(scenario.expected.map((e) => e.state));
    const limits = new Set(scenario.expected.map((e) => e.limit));
    expect([...STATES].filter((state) => !states.has(state))).toEqual([]);
    expect(LIMITS.filter((limit) => limit !== 'none' && !limits.has(limit))).toEqual([]);
  });

  // Days on which calendars are odd: the turn of a year, both changes of the clock.
  it.each(['2025-01-01', '2025-03-30', '2025-10-26'])(
    'has the planned hours since each service on %s',
    (today) => {
      const { document: told } = makeScenario(today);
      const rides = seasonOf(today);
      const since = (unit: string, kind: string, bike: string, of: (ride: PlannedRide) => number): number => {
        const on = told.services.find((s) => s.unit === unit && s.serviceKind === kind)!.on;
        return rides
          .filter((r) => r.bike === bike && r.ridden.timeMs[0]! >= Date.parse(`${on}T00:00:00Z`))
          .reduce((sum, ride) => sum + of(ride), 0);
      };
      const terrain = (ride: PlannedRide) => ride.terrainHours;
      const within = (value: number, low: number, high: number) => {
        expect(value).toBeGreaterThan(low);
        expect(value).toBeLessThan(high);
      };
      within(since('F-0103', 'lower-leg', 'b4', terrain), 0.9 * 50, 0.98 * 50);
      within(since('A-0103', 'air-sleeve', 'b4', terrain), 1.06 * 50, 1.14 * 50);
      within(since('F-0105', 'lower-leg', 'b6', terrain), 1.35 * 20, 1.55 * 20);
      within(
        since('F-0102', 'lower-leg', 'b3', (ride) => ride.movingHours),
        1.04 * 22,
        1.18 * 22,
      );
    },
  );
});
