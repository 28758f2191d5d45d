import type { Command } from 'commander';
import { agreeToClock, doubtText, findClockDoubt } from '../../flow/clockDoubt.js';
import { isoTime } from '../../units.js';
import { contextOf } from '../context.js';
import { withStanchion } from '../opened.js';
import { setStatus } from '../status.js';

export const clock = async ({ agree = false }: { agree?: boolean }, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const now = stanchion.clock.now();
    if (agree) await stanchion.store.write((tx) => agreeToClock(tx, now));
    const doubt = await stanchion.store.read((tx) => findClockDoubt(tx, stanchion.clock));
    const lastBelieved = doubt && isoTime(doubt.lastAt);
    out.object({ now: isoTime(now), doubt: doubt?.how ?? null, lastBelieved });
    if (doubt !== null) setStatus(1);
    out.line(doubt === null ? `The clock says ${isoTime(now)} and is trusted.` : doubtText(doubt));
  });
};
