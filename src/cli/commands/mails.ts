import type { Command } from 'commander';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { deliverOutbox, tryAgainNow } from '../../flow/mail/deliverOutbox.js';
import { type Decided, queueNotices } from '../../flow/mail/queueNotices.js';
import { wordsFor } from '../../languages/index.js';
import type { Stanchion } from '../../main.js';
import { contextOf, withStanchion } from '../context.js';

export function addMails(program: Command): void {
  program
    .command('mails')
    .description('decide and queue today’s notices')
    .option('--dry', 'only say what would be queued')
    .action(async (options: { dry?: boolean }, command: Command) => {
      const { out } = contextOf(command);
      await withStanchion(command, {}, async (stanchion) => {
        await refreshAllDue(stanchion);
        const decided = await queueNotices(stanchion, { dry: options.dry ?? false });
        const rows = await rowsOf(stanchion, decided, options.dry ?? false);
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
      });
    });

  program
    .command('deliver')
    .description('hand over what waits, once')
    .action(async (_options, command: Command) => {
      const { out } = contextOf(command);
      await withStanchion(command, {}, async (stanchion) => {
        await refreshAllDue(stanchion);
        await queueNotices(stanchion, { withdrawOnly: true });
        const before = await stanchion.store.read((tx) => tx.mails.list());
        await tryAgainNow(stanchion);
        await deliverOutbox(stanchion);
        const after = await stanchion.store.read((tx) => tx.mails.list());
        const waiting = new Set(before.filter((mail) => mail.state === 'waiting').map((mail) => mail.id));
        const done = after.filter((mail) => waiting.has(mail.id));
        for (const { messageId, mail, state, tries, answer } of done) {
          out.object({ messageId, mail, state, tries, answer });
          out.line(`${mail}: ${state}${answer === null ? '' : `. ${answer}`}`);
        }
        if (done.length === 0) out.line('Nothing waits.');
      });
    });
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
