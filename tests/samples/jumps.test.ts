import { Decoder, Stream } from '@garmin/fitsdk';
import { describe, expect, it } from 'vitest';
import { getCourse } from '../../samples/courses.js';
import { fitRide } from '../../samples/fitRide.js';
import { hangOf, type Jump, jumpsOf } from '../../samples/jumps.js';
import { rideOver } from '../../samples/ridden.js';
import { fitOptions } from '../../samples/season.js';

const course = getCourse('park day');
const ridden = rideOver({
  course,
  seed: 'test',
  startMs: Date.parse('2025-05-04T09:00:00Z'),
  pace: 1,
  sampling: 'second',
  halts: 2,
  stopsRecorder: true,
});
const jumps = jumpsOf(ridden, course, 'test');

const decoded = (felt: { readonly jumps?: readonly Jump[] }) => {
  const decoder = new Decoder(
    Stream.fromByteArray([...fitRide(ridden, { ...fitOptions('downhill'), ...felt })]),
  );
  expect(decoder.checkIntegrity()).toBe(true);
  const { messages, errors } = decoder.read();
  expect(errors).toEqual([]);
  return messages as unknown as {
    readonly jumpMesgs?: readonly {
      timestamp: Date;
      hangTime: number;
      distance: number;
      enhancedSpeed: number;
    }[];
    readonly sessionMesgs: readonly { jumpCount?: number }[];
  };
};

describe('jumps', () => {
  it('are on the way down alone, none on a road, and the same for the same seed', () => {
    expect(jumps.length).toBeGreaterThan(80);
    for (const { atMs, hangS } of jumps) {
      const i = ridden.timeMs.indexOf(atMs);
      expect(course.legs[course.leg[Math.floor(ridden.distM[i]! / course.xM[1]!)]!]!.by).toBe('riding');
      expect(hangS).toBeGreaterThanOrEqual(0.2);
      expect(hangS).toBeLessThanOrEqual(0.8);
    }
    expect(jumpsOf(ridden, course, 'test')).toEqual(jumps);
    const road = getCourse('short road');
    const order = {
      seed: 'test',
      startMs: 0,
      pace: 1,
      sampling: 'smart',
      halts: 1,
      stopsRecorder: true,
    } as const;
    expect(jumpsOf(rideOver({ ...order, course: road }), road, 'test')).toEqual([]);
  });

  it('are read back by the official decoder, each where it was, and counted by the session', () => {
    const { jumpMesgs, sessionMesgs } = decoded({ jumps });
    expect(sessionMesgs[0]!.jumpCount).toBe(jumps.length);
    expect(jumpMesgs!.map(({ timestamp }) => timestamp.getTime())).toEqual(jumps.map(({ atMs }) => atMs));
    expect(jumpMesgs!.reduce((sum, { hangTime }) => sum + hangTime, 0)).toBeCloseTo(hangOf(jumps), 3);
    for (const [i, { distance, enhancedSpeed }] of jumpMesgs!.entries()) {
      expect(enhancedSpeed).toBeCloseTo(jumps[i]!.speedMps, 2);
      expect(distance).toBeCloseTo(jumps[i]!.speedMps * jumps[i]!.hangS, 3);
    }
  });

  it('are not recorded where the recorder feels none, which is not the same as none felt', () => {
    const blind = decoded({});
    expect(blind.jumpMesgs).toBeUndefined();
    expect(blind.sessionMesgs[0]!.jumpCount).toBeUndefined();
    expect(decoded({ jumps: [] }).sessionMesgs[0]!.jumpCount).toBe(0);
  });
});
