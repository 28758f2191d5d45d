import type { Command } from 'commander';
import { listWays } from '../../flow/take/ways.js';
import { wordsFor } from '../../languages/index.js';
import { contextOf } from '../context.js';
import { withStanchion } from '../opened.js';

/** Says for each rider by which ways files come, when last, how late as a rule, and what is stuck. */
export const ways = async (_options: unknown, command: Command): Promise<void> => {
  const { out } = contextOf(command);
  const words = wordsFor('en');
  await withStanchion(command, {}, async ({ store, clock }) => {
    const rows = await store.read((tx) => listWays(tx, clock.now()));
    for (const { name: _name, ...row } of rows) out.object(row);
    out.table(
      ['rider', 'name', 'by', 'last', 'days late', 'need an answer', 'not usable', 'mails left'],
      rows.map(({ rider, name, ways: used, daysLate, asking, setAside, mailsLeft }) => [
        ...[rider, name],
        used.length === 0
          ? 'nothing yet'
          : used.map(({ way, rides }) => `${words.way[way ?? 'before']} (${rides})`).join(', '),
        used[0]?.last ?? '',
        daysLate === null ? '' : String(daysLate),
        ...[asking, setAside, mailsLeft].map((count) => (count === 0 ? '' : String(count))),
      ]),
    );
  });
};
