import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { dayNumber } from '../../../src/core/days/dayNumber.js';
import type { RideHours } from '../../../src/core/forecast/forecast.js';
import { day } from '../../../src/units.js';

/** One rider's log, every hour at terrain weight 1. Units: days are counts since 1970-01-01. Shape: rides in time order. */
export interface RiderLog {
  readonly rider: string;
  readonly rides: readonly LoggedRide[];
  readonly first: number;
  readonly last: number;
}

export interface LoggedRide extends RideHours {
  readonly at: number;
}

/** Returns the logs in the folder of recordings. */
export const readRidingLogs = (folder: string): readonly RiderLog[] => {
  const byRider = new Map<string, LoggedRide[]>();
  const [header, ...rows] = readFileSync(join(folder, 'riding-logs.csv'), 'utf8').trim().split('\n');
  if (header?.trim() !== 'rider,start,kind,moving_s') throw new Error('riding-logs.csv has other columns');
  for (const row of rows) {
    const [rider = '', start = '', , movingS] = row.split(',');
    const rides = byRider.get(rider) ?? [];
    const on = day(start.slice(0, 10));
    rides.push({ at: dayNumber(on), day: on, movingS: Number(movingS), terrainMs: Number(movingS) * 1000 });
    byRider.set(rider, rides);
  }
  return [...byRider].map(([rider, rides]) => {
    rides.sort((a, b) => a.at - b.at);
    return { rider, rides, first: rides[0]!.at, last: rides.at(-1)!.at };
  });
};

const YEARS_HANDED_OVER = 3;

/** Returns the rides of the three years up to and with a day, as the forecast takes them. */
export const ridesUpTo = (log: RiderLog, at: number): readonly RideHours[] =>
  log.rides.filter((ride) => ride.at <= at && ride.at > at - YEARS_HANDED_OVER * 371);

/** Returns the log's hours by week, oldest first, weeks counted from the first ride. */
export const hoursByWeek = (log: RiderLog): readonly number[] => {
  const weeks = Array<number>(Math.floor((log.last - log.first) / 7) + 1).fill(0);
  for (const ride of log.rides) {
    const week = Math.floor((ride.at - log.first) / 7);
    weeks[week] = weeks[week]! + ride.movingS / 3600;
  }
  return weeks;
};
