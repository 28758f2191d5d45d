import type { Command } from 'commander';
import { momentOf } from '../../core/ledger/moment.js';
import { ServiceError } from '../../errors.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { answerTray } from '../../flow/rides/answerTray.js';
import type { TrayAnswer } from '../../flow/rides/joinWords.js';
import type { ClimbRow, RiddenClimbs } from '../../flow/rides/listClimbs.js';
import { listTray, type TrayRow } from '../../flow/rides/listTray.js';
import { changesText, listUnitChanges, RideChanges } from '../../flow/rides/rideChanges.js';
import { type RideTold, type RideWord, tellRide } from '../../flow/rides/tellRide.js';
import { getWorkshop } from '../../flow/settings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { isoTime, minutesIn } from '../../units.js';
import { contextOf } from '../context.js';
import { BY_COMMAND, getByHandle, withStanchion } from '../opened.js';
import { answersTo, questionText } from '../trayText.js';

interface TrayOptions {
  bike?: string;
  rider?: string;
  ride?: string;
  on?: string;
  minutes?: number;
  ridden?: RiddenClimbs;
  apart?: string;
  with?: string;
}

export const tray = async (id: string | undefined, options: TrayOptions, command: Command) => {
  const isAnswer = Object.values(options).some((value) => value !== undefined);
  if (isAnswer && id === undefined)
    throw new ServiceError('wrong-use', 'Say which ride you answer: tray ID ANSWER.');
  if (id === undefined) await show(command);
  else if (isAnswer) await answer(command, id, options);
  else await tell(command, id);
};

const timeOrNull = (at: Instant | null): string | null => (at === null ? null : isoTime(at));

async function show(command: Command): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const rows = await stanchion.store.read(listTray);
    for (const row of rows)
      out.object({
        ...row,
        question: questionText(row.code, row.named),
        start: timeOrNull(row.start),
        sameAsStart: timeOrNull(row.sameAsStart),
        climbs: (row.climbs?.climbs ?? []).map((climb) => ({ ...climb, at: isoTime(climb.at) })),
        answers: answersTo(row),
      });
    if (rows.length === 0) out.line('The tray is empty.');
    for (const row of rows) out.line(shown(row));
  });
}

function shown(row: TrayRow): string {
  const both = row.movingHoursWithDoubtful;
  const hours =
    both === null
      ? `${row.movingHours.toFixed(2)} h moving`
      : `${row.movingHours.toFixed(2)} h moving without that part, ${both.toFixed(2)} h with it`;
  const other = row.sameAs === null ? '' : ` (The other is ${row.sameAs}, ${timeOrNull(row.sameAsStart)}.)`;
  const answers = answersTo(row);
  const width = Math.max(...answers.map((one) => one.option.length));
  return [
    `${row.id}  ${row.file}  ${timeOrNull(row.start) ?? 'no time'}  ${hours}${row.rider === null ? '' : `, ${row.rider}`}`,
    `    ${questionText(row.code, row.named)}${other}`,
    ...(row.climbs?.climbs ?? []).map(climbLine),
    ...answers.map(({ option, means }) => `      stanchion tray ${row.id} ${option.padEnd(width)}  ${means}`),
  ].join('\n');
}

const climbLine = ({ number, at, seconds, upM, heartBpm, isRidden }: ClimbRow): string =>
  `      ${String(number).padStart(2)}  ${isoTime(at)}  ${Math.round(minutesIn(seconds))} min, ${upM} m up${heartBpm === null ? '' : `, heart ${heartBpm}`}: ${isRidden ? 'likely ridden' : 'likely not ridden'}`;

async function tell(command: Command, id: string): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const told = await stanchion.store.read((tx) => tellRide(tx, id));
    const said = told.said.map((word) => ({ ...word, at: isoTime(word.at), on: timeOrNull(word.on) }));
    out.object({ ...told, start: timeOrNull(told.start), said });
    out.line(standing(told));
    for (const word of told.said) out.line(`    ${wordText(word)}`);
  });
}

function standing(told: RideTold): string {
  const { id, start, movingHours, bike, bikeRule, rider } = told;
  const onBike = bike === null ? 'no bike' : `bike ${bike} (${bikeRule})`;
  return `${id}  ${timeOrNull(start) ?? 'no time'}  ${movingHours.toFixed(2)} h moving  ${rider ?? 'nobody'}, ${onBike}; ${stateOf(told)}`;
}

function stateOf({ question, dismissed, indoor }: RideTold): string {
  if (dismissed) return 'not counted as a ride';
  if (question !== null) return `waits: ${question}`;
  return indoor ? 'ridden indoors, counts for no unit' : 'counts';
}

function wordText({ by, at, rider, bike, ride, on, minutes }: RideWord): string {
  const words = [
    ...(rider === null ? [] : [`rider ${rider}`]),
    ...(bike === null ? [] : [`bike ${bike}`]),
    ...Object.entries(ride ?? {}).map(([question, yes]) => `${question}: ${yes ? 'yes' : 'no'}`),
    ...(on === null ? [] : [`started ${isoTime(on)}`]),
    ...(minutes === null ? [] : [`${minutes} minutes`]),
  ];
  return `${isoTime(at)}  ${by}: ${words.join(', ')}`;
}

async function answer(command: Command, id: string, options: TrayOptions): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const at = stanchion.clock.now();
    const { ride, changed } = await stanchion.store.write(async (tx) => {
      const changes = new RideChanges();
      const answered = await answerTray(tx, id, await answerOf(tx, options), { by: BY_COMMAND, at }, changes);
      return { ride: answered, changed: await listUnitChanges(tx, changes, at) };
    });
    await refreshAllDue(stanchion);
    out.object({
      ...{ did: 'answer', ids: [ride.id], problems: [] },
      changed: changed.map(({ tag, movingS, terrainS }) => ({ unit: tag, movingS, terrainS })),
    });
    const told = await stanchion.store.read((tx) => tellRide(tx, ride.id));
    const hours = changesText(changed);
    out.line(`${standing(told)}${hours === '' ? '' : ` (${hours})`}`);
    if (!ride.dismissed && ride.question !== null) out.line('It still needs an answer: stanchion tray.');
  });
}

async function answerOf(
  tx: Tx,
  { bike, rider, ride, on, minutes, ...joining }: TrayOptions,
): Promise<TrayAnswer> {
  if (ride !== undefined && ride !== 'yes' && ride !== 'no')
    throw new ServiceError('wrong-use', '--ride is answered with yes or no.');
  return {
    ...(bike === undefined ? {} : { bikeId: await getByHandle(tx, 'bike', bike) }),
    ...(rider === undefined ? {} : { riderId: await getByHandle(tx, 'rider', rider) }),
    ...(ride === undefined ? {} : { ride: ride === 'yes' }),
    ...(on === undefined ? {} : { on: momentOf(on, (await getWorkshop(tx)).timeZone)! }),
    ...(minutes === undefined ? {} : { minutes }),
    ...joining,
  };
}
