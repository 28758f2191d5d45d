import type { Command } from 'commander';
import { checkLedger } from '../../flow/carry/checkLedger.js';
import { atWorkIn, hashPassword, serve, untilAskedToStop } from '../../main.js';
import { hoursOfSeconds } from '../../units.js';
import { contextOf } from '../context.js';
import { unlessInterrupted } from '../interrupted.js';
import { withStanchion } from '../opened.js';
import { readPassword } from '../password.js';
import { startTelling } from '../progress.js';
import { setStatus } from '../status.js';

export const setUp = async (options: { account: string }, command: Command) => {
  const { out } = contextOf(command);
  const password = await readPassword(command, options.account);
  const passwordHash = await hashPassword(password, [options.account]);
  await withStanchion(command, { make: true }, async (stanchion) => {
    const account = await stanchion.store.write((tx) =>
      tx.accounts.add({ name: options.account, passwordHash, role: 'owner' }),
    );
    out.object({ did: 'setup', ids: [account.id], problems: [] });
    out.line(`The ledger is in ${stanchion.config.dataFolder}; account "${options.account}" can sign in.`);
    out.line('Next: stanchion serve, and on its page the name of the workshop; or, where a file holds');
    out.line('the workshop with its riders, bikes and units, stanchion import FILE.json first.');
  });
};

export const serveAll = async (options: { port?: number }, command: Command) => {
  const { out } = contextOf(command);
  const stopped = untilAskedToStop();
  await withStanchion(
    command,
    { runsOn: true, logs: 'all', ...(options.port === undefined ? {} : { port: options.port }) },
    (stanchion) =>
      serve(
        stanchion,
        (url) => {
          out.object({ did: 'serve', url });
          out.line(`Stanchion is ready at ${url}`);
        },
        stopped,
      ),
  );
};

const UNCHECKED = {
  message: 'Interrupted: the rest was not checked.',
  hint: 'Checking changes nothing. Give the command again when there is time.',
};

export const check = async (_options: unknown, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async ({ store, photoFiles, config }) => {
    const telling = startTelling(atWorkIn(config.dataFolder, 'check'));
    const checked = await unlessInterrupted(out, UNCHECKED, () =>
      checkLedger(store, photoFiles, telling.told),
    );
    telling.done();
    out.object(checked);
    if (!checked.ok) setStatus(3);
    out.line(
      checked.ok
        ? `All is well: ${checked.facts} facts, and everything derived agrees with them.`
        : 'There are faults:',
    );
    for (const fault of checked.faults) out.line(`  ${fault}`);
    for (const file of checked.unnamedFiles)
      out.line(`${file}: no photograph uses it. It is deleted by itself after 30 days.`);
    for (const { unit, movingS, aloneS } of checked.joined.charges)
      out.line(
        `${unit}: rides of several recordings count ${hoursOfSeconds(movingS).toFixed(2)} h; each recording alone would give ${hoursOfSeconds(aloneS).toFixed(2)} h.`,
      );
    for (const { ride, file, covers } of checked.joined.covering)
      out.line(
        `Ride ${ride}: ${file} lies over ${covers.join(', ')}. Set apart: stanchion tray ${ride} --apart FILE`,
      );
  });
};
