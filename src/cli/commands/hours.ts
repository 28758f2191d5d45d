import type { Command } from 'commander';
import { GROUNDS, type Ground, HOUR_SOURCES } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import { getBikeHours } from '../../flow/due/bikeHours.js';
import { addHours, addUnrecorded } from '../../flow/facts/enterFacts.js';
import { isBareOn } from '../../flow/fittings/unitFittings.js';
import { getWorkshop } from '../../flow/settings.js';
import { wordsFor } from '../../languages/index.js';
import { type Day, hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { contextOf } from '../context.js';
import { getByHandle, withStanchion } from '../opened.js';
import { enter } from './ledger.js';

interface HoursOptions {
  on?: Day;
  minutes?: number;
  ground: Ground;
  unrecorded?: number;
  from?: Day;
  to?: Day;
  note?: string;
}

export const hours = async (bike: string, options: HoursOptions, command: Command) => {
  const { on, minutes, unrecorded, from, to } = options;
  if (on !== undefined && minutes !== undefined && unrecorded === undefined)
    await enterHours(command, bike, { ...options, on, minutes });
  else if (unrecorded !== undefined && from !== undefined && on === undefined)
    await enterUnrecorded(command, bike, { ...options, unrecorded, from });
  else if ([on, minutes, unrecorded, from, to].every((one) => one === undefined))
    await showHours(command, bike);
  else
    throw new ServiceError(
      'wrong-use',
      'Give --on with --minutes, or --unrecorded with --from, or neither to see the hours.',
    );
};

async function enterHours(
  command: Command,
  bike: string,
  {
    on,
    minutes,
    ground,
    note = null,
  }: Omit<HoursOptions, 'note'> & { on: Day; minutes: number; note?: string | null },
): Promise<void> {
  if (!GROUNDS.includes(ground))
    throw new ServiceError('wrong-use', `The ground must be one of: ${GROUNDS.join(', ')}.`);
  await enter(command, `${minutes} minutes on ${bike} on ${on}`, async (tx, entry) => {
    const bikeId = await getByHandle(tx, 'bike', bike);
    const ids = [await addHours(tx, { bikeId, on, minutes, ground, note }, entry)];
    const { timeZone } = await getWorkshop(tx);
    if (!(await isBareOn(tx, bikeId, on, timeZone))) return ids;
    const said = `No unit was on ${bike} on ${on}, so these hours count for none. Enter an earlier fitting and they count.`;
    return { ids, problems: [{ code: 'on-no-unit', message: said, source: bike }] };
  });
}

async function enterUnrecorded(
  command: Command,
  bike: string,
  {
    unrecorded,
    from,
    to = null,
    note = null,
  }: { unrecorded: number; from: Day; to?: Day | null; note?: string | null },
): Promise<void> {
  const did = `${unrecorded} % of the riding on ${bike} went unrecorded from ${from}${to === null ? ' on' : ` to ${to}`}`;
  await enter(command, did, async (tx, entry) => {
    const bikeId = await getByHandle(tx, 'bike', bike);
    return [await addUnrecorded(tx, { bikeId, from, to, share: unrecorded / 100, note }, entry)];
  });
}

async function showHours(command: Command, bike: string): Promise<void> {
  const { out } = contextOf(command);
  const words = wordsFor('en');
  await withStanchion(command, {}, async ({ store, clock }) => {
    const hours = await store.read(async (tx) =>
      getBikeHours(tx, await getByHandle(tx, 'bike', bike), clock.now()),
    );
    const lines = HOUR_SOURCES.map((source) => ({
      bike,
      source,
      movingHours: hoursOfSeconds(hours[source].movingS),
      terrainHours: hoursOfThousandths(hours[source].terrainMs),
    }));
    for (const line of lines) out.object(line);
    out.table(
      ['where from', 'moving', 'terrain'],
      lines.map((line) => [
        words.hourSource[line.source],
        words.hours(line.movingHours),
        words.hours(line.terrainHours),
      ]),
    );
  });
}
