import type { Command } from 'commander';
import type { CallReason } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { listCalls, sayTold } from '../../flow/mail/listCalls.js';
import { wordsFor } from '../../languages/index.js';
import { contextOf } from '../context.js';
import { getByHandle, withStanchion } from '../opened.js';
import { enter } from './ledger.js';

const WHY: Readonly<Record<CallReason, string>> = {
  'no-address': 'no address',
  unconfirmed: 'the address is not confirmed',
  refused: 'the address takes no mail',
  unsubscribed: 'reminders were stopped',
  'told-twice': 'a repeat went already',
};

export const told = async (
  tag: string | undefined,
  kind: string | undefined,
  _options: unknown,
  command: Command,
): Promise<void> => {
  if (tag === undefined) return listWhomToCall(command);
  if (kind === undefined) throw new ServiceError('wrong-use', 'Name the service kind too: told TAG KIND.');
  await enter(command, `${tag}: the rider was told of ${kind}`, async (tx, entry) => [
    await sayTold(tx, await getByHandle(tx, 'unit', tag), kind, entry),
  ]);
};

async function listWhomToCall(command: Command): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    await refreshAllDue(stanchion);
    const calls = await stanchion.store.read((tx) => listCalls(tx, stanchion.clock.now()));
    for (const { rider, phone, unit, serviceKind, state, reason } of calls)
      out.object({ rider, phone, unit, serviceKind, state, reason });
    const words = wordsFor('en');
    out.table(
      ['rider', 'phone', 'unit', 'service', 'state', 'why no mail'],
      calls.map((one) => [
        one.rider,
        one.phone ?? 'none',
        one.unit,
        words.serviceKind(one.serviceKind),
        words.state[one.state],
        WHY[one.reason],
      ]),
    );
    if (calls.length === 0) out.line('Nobody has to be called.');
    else out.line('Once a rider is told: stanchion told TAG KIND.');
  });
}
