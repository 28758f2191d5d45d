/** The clock of a call that was typed without its zone: it goes by the workshop's. */
import type { Command } from 'commander';
import { momentOf } from '../../core/ledger/moment.js';
import { ServiceError } from '../../errors.js';
import { findWorkshop } from '../../flow/settings.js';
import { isLedgerThere, openStanchion } from '../../main.js';
import type { Instant } from '../../units.js';
import { configOf } from '../opened.js';

/** Errors: `wrong-use` where there is no workshop yet whose clocks could be meant. */
export async function workshopTime(command: Command, text: string): Promise<Instant> {
  const zone = await zoneOf(command);
  const at = zone === null ? null : momentOf(text, zone);
  if (at !== null) return at;
  throw new ServiceError(
    'wrong-use',
    `There is no workshop yet, so its time zone is not known and ${text} is unclear.`,
    {
      hint: 'Give the time with its zone: 2025-05-20T08:00:00Z, or 2025-05-20T09:00:00+01:00.',
    },
  );
}

async function zoneOf(command: Command): Promise<string | null> {
  const config = configOf(command);
  if (!isLedgerThere(config)) return null;
  const stanchion = await openStanchion(config, { now: null });
  try {
    return (await stanchion.store.read(findWorkshop))?.body.timeZone ?? null;
  } finally {
    await stanchion.close();
  }
}
