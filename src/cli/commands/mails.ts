import type { Command } from 'commander';
import { setBegun } from '../../flow/begin.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { deliverOutbox, tryAgainNow } from '../../flow/mail/deliverOutbox.js';
import { type Decided, queueNotices } from '../../flow/mail/queueNotices.js';
import { wordsFor } from '../../languages/index.js';
import type { Stanchion } from '../../main.js';
import { contextOf } from '../context.js';
import { BY_COMMAND, withStanchion } from '../opened.js';
import type { Output } from '../output.js';

export const mails = async (options: { dry?: boolean }, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    await refreshAllDue(stanchion);
    const decided = await queueNotices(stanchion, { dry: options.dry ?? false });
    await showDecided(stanchion, out, decided, options.dry ?? false);
  });
};

export const begin = async (options: { off?: boolean; dry?: boolean }, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const { store, clock } = stanchion;
    if (options.dry) {
      await refreshAllDue(stanchion);
      const decided = await queueNotices(stanchion, { dry: true, asBegun: true });
      return showDecided(stanchion, out, decided, true);
    }
    const isOn = !options.off;
    const entry = { by: BY_COMMAND, at: clock.now() };
    const id = await store.write((tx) => setBegun(tx, isOn, entry));
    out.object({ did: 'begin', ids: id === null ? [] : [id], problems: [] });
    const now = isOn
      ? 'Reminders go out from today.'
      : 'Reminders are paused: nothing goes out but “stop riding”.';
    out.line(id === null ? `Nothing changed. ${now}` : now);
  });
};

export const deliver = async (_options: unknown, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    await refreshAllDue(stanchion);
    await queueNotices(stanchion, { withdrawOnly: true });
    const before = await stanchion.store.read((tx) => tx.mails.listIn('waiting'));
    await tryAgainNow(stanchion);
    await deliverOutbox(stanchion);
    for (const { id } of before) {
      const { messageId, mail, state, tries, answer } = (await stanchion.store.read((tx) =>
        tx.mails.find(id),
      ))!;
      out.object({ messageId, mail, state, tries, answer });
      const told = state === 'not-sent' ? 'not sent, for want of a relay' : state;
      out.line(`${mail}: ${told}${answer === null ? '' : `. ${answer}`}`);
    }
    if (before.length === 0) out.line('Nothing waits.');
  });
};

async function showDecided(
  stanchion: Stanchion,
  out: Output,
  decided: readonly Decided[],
  dry: boolean,
): Promise<void> {
  const rows = await rowsOf(stanchion, decided, dry);
  for (const row of rows) out.object(row);
  const words = wordsFor('en');
  out.table(
    ['to', 'unit', 'service', 'state', 'occasion', 'decision', 'reason'],
    rows.map((row) => [
      row.to,
      row.unit ?? '',
      row.serviceKind === null ? '' : words.serviceKind(row.serviceKind),
      row.state === null ? '' : words.state[row.state],
      row.occasion,
      row.decision,
      row.reason,
    ]),
  );
}

const DECISION = { queue: 'queued', already: 'queued-already', hold: 'held', withdraw: 'withdrawn' } as const;

/** Notices by the handles that people use; what lapsed needs nobody's attention. */
async function rowsOf({ store }: Stanchion, decided: readonly Decided[], dry: boolean) {
  return store.read(async (tx) => {
    const riders = await tx.handles.all('rider');
    const units = await tx.handles.all('unit');
    return decided.flatMap((one) => {
      if (one.decision === 'lapse') return [];
      const decision = dry && one.decision === 'queue' ? 'would-queue' : DECISION[one.decision];
      return [
        {
          to: riders.get(one.to) ?? one.to,
          unit: one.unitId === null ? null : (units.get(one.unitId) ?? null),
          serviceKind: one.serviceKind,
          state: one.state,
          occasion: one.occasion,
          messageId: one.messageId,
          decision,
          reason: one.reason,
        },
      ];
    });
  });
}
