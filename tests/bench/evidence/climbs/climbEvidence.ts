/** Which climbs of a day were ridden: made days on real ways against the truth, and real rides that must lose nothing. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { asksAboutClimbs } from '../../../../src/core/ground/climbs/dayClimbs.js';
import type { Reading } from '../../../../src/core/ground/samples/reading.js';
import { hasMotor } from '../../../../src/core/ground/sport.js';
import { readingOf, recordingOf } from '../rideSet.js';
import { textTable } from '../textTable.js';
import { type Day, madeDays, RECORDERS, recorded, riddenS, START_MS } from './days.js';
import { linesOf } from './lines.js';

const SETTLED_WITHIN = 0.05;
const OFFERED_WITHIN = 0.1;

interface Outcome {
  readonly day: Day;
  readonly recorder: string;
  /** Ridden seconds found over true ones. */
  readonly found: number;
  /** The same as a person could tick it. */
  readonly offered: number;
  readonly isAsked: boolean;
}

function outcomeOf(day: Day, recorder: (typeof RECORDERS)[number]): Outcome {
  const reading = readingOf(recorded(day, recorder));
  const truth = riddenS(day);
  return {
    day,
    recorder: recorder.name,
    found: reading.movingS / truth,
    offered: tickedS(day, reading) / truth,
    isAsked: reading.question === 'climbs',
  };
}

/** What counts if somebody who was there ticks each climb that was mostly ridden. */
function tickedS(day: Day, { movingS, climbs = [], start }: Reading): number {
  return climbs.reduce<number>((sum, { fromMs, toMs, moving, isIn }) => {
    const from = (start! + fromMs - START_MS) / 1000;
    const during = day.places.filter(({ s }) => s >= from && s < from + (toMs - fromMs) / 1000);
    const wasRidden = during.filter(({ doing }) => doing !== 'carried').length > during.length / 2;
    const seconds = moving.reduce((all, [a, b]) => all + (b - a) / 1000, 0);
    return wasRidden === isIn ? sum : sum + (wasRidden ? seconds : -seconds);
  }, movingS);
}

const isNear = (ratio: number, within: number): boolean => Math.abs(ratio - 1) <= within;
const percent = (part: number, all: number): string =>
  all === 0 ? '' : `${Math.round((100 * part) / all)} %`;

/** Returns the tables; the folder is STANCHION_RECORDINGS. */
export async function climbEvidence(): Promise<string> {
  const folder = process.env.STANCHION_RECORDINGS;
  if (folder === undefined) return 'Climbs: left out, STANCHION_RECORDINGS names no folder of recordings.';
  const ways = linesOf(folder);
  return [
    'Climbs: made days on ways that somebody rode, each by six recorders',
    tableOf(madeDays(ways)),
    '',
    'The same kinds of days drawn anew, on which nothing was set',
    tableOf(UNSEEN.flatMap((series) => madeDays(ways, series))),
    '',
    'Real rides of the folder: seconds left out, and whether they would be asked about',
    textTable([['rides', 'with climbs', 'lose seconds', 'asked'], realRides(folder)]),
  ].join('\n');
}

/** Series of days that were looked at by nobody who set a constant. */
const UNSEEN = [5, 6];

function tableOf(days: readonly Day[]): string {
  const outcomes = days.flatMap((day) => RECORDERS.map((recorder) => outcomeOf(day, recorder)));
  const kinds = [...new Set(days.map(({ kind }) => kind))];
  const rows = (name: string, of: readonly Outcome[]): string[] => {
    const settled = of.filter(({ isAsked }) => !isAsked);
    const asked = of.filter(({ isAsked }) => isAsked);
    const right = settled.filter(({ found }) => isNear(found, SETTLED_WITHIN)).length;
    return [
      name,
      String(of.length),
      percent(right, of.length),
      percent(settled.length - right, of.length),
      percent(asked.length, of.length),
      percent(asked.filter(({ offered }) => isNear(offered, OFFERED_WITHIN)).length, asked.length),
    ];
  };
  const head = ['days', 'n', 'settled within 5 %', 'settled wrong', 'asked', 'of these, true split offered'];
  const groups = [
    { name: 'carried up, all', of: outcomes.filter(({ day }) => !day.isRidden) },
    { name: 'ridden, all', of: outcomes.filter(({ day }) => day.isRidden) },
    ...['heart', ''].map((heart) => ({
      name: heart === '' ? 'carried up, no heart rate' : 'carried up, with heart rate',
      of: outcomes.filter(
        ({ day, recorder }) => !day.isRidden && recorder.includes('heart') === (heart !== ''),
      ),
    })),
  ];
  return textTable([
    head,
    ...kinds.map((kind) =>
      rows(
        kind,
        outcomes.filter(({ day }) => day.kind === kind),
      ),
    ),
    ...groups.map(({ name, of }) => rows(name, of)),
  ]);
}

function realRides(folder: string): string[] {
  const readings = readdirSync(join(folder, 'rides')).flatMap((file) => {
    try {
      return [readingOf(recordingOf(folder, file))];
    } catch {
      // Not one ride: no track, or several in one file.
      return [];
    }
  });
  const lost = readings.filter(({ leftOut }) => leftOut.some(({ code }) => code === 'lift'));
  const asked = readings.filter((reading) =>
    asksAboutClimbs(reading.climbs ?? [], hasMotor(reading), reading.movingS),
  );
  const climbing = readings.filter(({ climbs }) => climbs !== undefined);
  return [readings.length, climbing.length, lost.length, asked.length].map(String);
}
