import { describe, expect, it } from 'vitest';
import { type CourseName, getCourse } from '../../samples/courses.js';
import { type RideOrder, rideOver } from '../../samples/ridden.js';

const START = Date.parse('2025-05-04T09:00:00Z');
const order = (course: CourseName, more: Partial<RideOrder> = {}): RideOrder => ({
  course: getCourse(course),
  seed: 'test',
  startMs: START,
  pace: 1,
  sampling: 'smart',
  halts: 3,
  stopsRecorder: true,
  ...more,
});

describe('rideOver', () => {
  it('goes forward in time and distance, whole seconds apart, to the end of the course', () => {
    const ride = rideOver(order('two becks'));
    for (let i = 1; i < ride.timeMs.length; i += 1) {
      const dt = ride.timeMs[i]! - ride.timeMs[i - 1]!;
      expect(dt).toBeGreaterThan(0);
      expect(dt % 1000).toBe(0);
      expect(ride.distM[i]!).toBeGreaterThanOrEqual(ride.distM[i - 1]!);
    }
    expect(ride.distM.at(-1)!).toBeGreaterThan(getCourse('two becks').lengthM - 2);
  });

  it('samples every second, or 3 to 7 s apart while the recorder runs', () => {
    const everySecond = rideOver(order('evening trail', { sampling: 'second', stopsRecorder: false }));
    const smart = rideOver(order('evening trail', { stopsRecorder: false }));
    const gaps = (timeMs: readonly number[]) => timeMs.slice(1, -1).map((t, i) => (t - timeMs[i]!) / 1000);
    expect(new Set(gaps(everySecond.timeMs))).toEqual(new Set([1]));
    expect([...new Set(gaps(smart.timeMs))].sort()).toEqual([3, 4, 5, 6, 7]);
  });

  it('starts a span after each halt when the recorder stops, none when it runs on', () => {
    const stopping = rideOver(order('two becks'));
    expect(stopping.spanStarts).toHaveLength(4);
    for (const i of stopping.spanStarts.slice(1)) {
      expect(stopping.timeMs[i]! - stopping.timeMs[i - 1]!).toBeGreaterThanOrEqual(70_000);
      expect(stopping.distM[i]).toBe(stopping.distM[i - 1]);
    }
    const running = rideOver(order('two becks', { stopsRecorder: false }));
    expect(running.spanStarts).toEqual([0]);
    expect(running.speedMps.filter((v) => v === 0).length).toBeGreaterThan(20);
  });

  it('goes slower on rougher ground and uphill', () => {
    const meanMps = (name: CourseName) => {
      const ride = rideOver(order(name));
      return getCourse(name).lengthM / ride.movingS;
    };
    expect(meanMps('long road')).toBeGreaterThan(meanMps('gravel round'));
    expect(meanMps('gravel round')).toBeGreaterThan(meanMps('two becks'));
  });

  it('leaves the lift out of the true riding time', () => {
    const ride = rideOver(order('park day', { halts: 0 }));
    const elapsedS = (ride.timeMs.at(-1)! - START) / 1000;
    const liftS = (13 * 1150) / 2.75;
    expect(elapsedS - ride.movingS).toBeGreaterThan(liftS * 0.98);
    expect(elapsedS - ride.movingS).toBeLessThan(liftS * 1.02 + 26 * 110);
  });

  it('is the same ride for the same order, another for another seed', () => {
    expect(rideOver(order('evening trail'))).toEqual(rideOver(order('evening trail')));
    expect(rideOver(order('evening trail', { seed: 'other' })).timeMs).not.toEqual(
      rideOver(order('evening trail')).timeMs,
    );
  });
});
