import type { Command } from 'commander';
import { ServiceError } from '../../errors.js';
import { answerTray, type TrayAnswer } from '../../flow/answerTray.js';
import { listTray, type TrayRow } from '../../flow/listTray.js';
import { refreshAllDue } from '../../flow/refreshDue.js';
import type { Instant } from '../../units.js';
import { isoTime } from '../../units.js';
import {
  BY_COMMAND,
  contextOf,
  getByHandle,
  minutesArgument,
  timeArgument,
  withStanchion,
} from '../context.js';

interface TrayOptions {
  bike?: string;
  rider?: string;
  ride?: string;
  on?: Instant;
  minutes?: number;
}

export function addTray(program: Command): void {
  program
    .command('tray')
    .description('what waits for a person’s word; with an id, an answer (or a ride moved to another bike)')
    .argument('[id]')
    .option('--bike <id>', 'it was on this bike')
    .option('--rider <id>', 'it is this rider’s')
    .option('--ride <yes|no>', 'yes: riding, and a ride of its own; no: not')
    .option('--on <time>', 'when it started', timeArgument)
    .option('--minutes <n>', 'for how long it moved', minutesArgument)
    .action(async (id: string | undefined, options: TrayOptions, command: Command) => {
      if (id === undefined) return show(command);
      return answer(command, id, options);
    });
}

async function show(command: Command): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const rows = await stanchion.store.read(listTray);
    for (const { start, ...row } of rows)
      out.object({ ...row, start: start === null ? null : isoTime(start) });
    if (rows.length === 0) out.line('The tray is empty.');
    for (const row of rows) out.line(told(row));
  });
}

const told = (row: TrayRow): string =>
  [
    `${row.id}  ${row.file}  ${row.start === null ? 'no time' : isoTime(row.start)}  ${row.movingHours.toFixed(2)} h moving${row.rider === null ? '' : `, ${row.rider}`}`,
    `    ${row.question}`,
    ...row.answers.map((one) => `      stanchion tray ${row.id} ${one}`),
  ].join('\n');

async function answer(command: Command, id: string, options: TrayOptions): Promise<void> {
  const { out } = contextOf(command);
  const { ride: said } = options;
  if (said !== undefined && said !== 'yes' && said !== 'no') {
    throw new ServiceError('wrong-use', 'answer the tray', '--ride is answered with yes or no.');
  }
  await withStanchion(command, {}, async (stanchion) => {
    const ride = await stanchion.store.write(async (tx) => {
      const given: TrayAnswer = {
        ...(options.bike === undefined ? {} : { bikeId: await getByHandle(tx, 'bike', options.bike) }),
        ...(options.rider === undefined ? {} : { riderId: await getByHandle(tx, 'rider', options.rider) }),
        ...(said === undefined ? {} : { ride: said === 'yes' }),
        ...(options.on === undefined ? {} : { on: options.on }),
        ...(options.minutes === undefined ? {} : { minutes: options.minutes }),
      };
      return answerTray(tx, id, given, { by: BY_COMMAND, at: stanchion.clock.now() });
    });
    await refreshAllDue(stanchion);
    out.object({ did: 'answer', ids: [ride.id], problems: [] });
    if (ride.dismissed) out.line('Kept, and not counted as a ride.');
    else
      out.line(
        ride.question === null ? 'It counts now.' : `Still open: ${ride.question}. See stanchion tray.`,
      );
  });
}
