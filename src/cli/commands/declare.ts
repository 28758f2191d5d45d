import type { Command } from 'commander';
import { ALL_MONTHS } from '../../core/forecast/declared.js';
import type { Ground } from '../../core/tokens.js';
import { addDeclared } from '../../flow/facts/enterFacts.js';
import type { Day } from '../../units.js';
import { getByHandle } from '../opened.js';
import { enter } from './ledger.js';

interface DeclareOptions {
  readonly hours: number;
  readonly from: Day;
  readonly to?: Day;
  readonly ground: Ground;
  readonly months?: readonly number[];
}

export const declare = async (bike: string, options: DeclareOptions, command: Command): Promise<void> => {
  const { hours: hoursAWeek, from, to = null, ground, months = ALL_MONTHS } = options;
  const did = `about ${hoursAWeek} h a week on ${bike} declared from ${from}${to === null ? ' on' : ` to ${to}`}`;
  await enter(command, did, async (tx, entry) => {
    const bikeId = await getByHandle(tx, 'bike', bike);
    return [await addDeclared(tx, { bikeId, hoursAWeek, ground, months, from, to }, entry)];
  });
};
