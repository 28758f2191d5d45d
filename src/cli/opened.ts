/** The data folder, opened for a command. */
import type { Command } from 'commander';
import { ServiceError } from '../errors.js';
import { BY_COMMAND } from '../flow/entry.js';
import {
  type Config,
  needLedger,
  openStanchion,
  readConfig,
  type Stanchion,
  withBackupsNamed,
} from '../main.js';
import type { HandleKind } from '../ports/handles.js';
import type { Tx } from '../ports/store.js';
import { contextOf, type Globals } from './context.js';

export { BY_COMMAND };

export const configOf = (command: Command, port?: number): ReturnType<typeof readConfig> => {
  const { data } = command.optsWithGlobals<Globals>();
  return readConfig(process.env, {
    ...(data === undefined ? {} : { STANCHION_DATA: { option: '--data', value: data } }),
    ...(port === undefined ? {} : { PORT: { option: '--port', value: String(port) } }),
  });
};

/** Opens the data folder for a command and closes it whatever happens. */
export async function withStanchion<T>(
  command: Command,
  options: {
    readonly make?: boolean;
    readonly runsOn?: boolean;
    readonly port?: number;
    readonly logs?: 'all';
  },
  work: (stanchion: Stanchion) => Promise<T>,
): Promise<T> {
  const { now } = contextOf(command);
  const { port, ...rest } = options;
  const config = configOf(command, port);
  try {
    const stanchion = await openStanchion(config, { now, ...rest });
    try {
      return await work(stanchion);
    } finally {
      await stanchion.close();
    }
  } catch (error) {
    throw await withBackupsNamed(error, config);
  }
}

/** Does work on a store that is not opened for it. Errors: `refused` where there is none; a lost one names its backups. */
export async function withStore<T>(command: Command, work: (config: Config) => Promise<T>): Promise<T> {
  const config = configOf(command);
  needLedger(config);
  try {
    return await work(config);
  } catch (error) {
    throw await withBackupsNamed(error, config);
  }
}

/** Errors: `not-found`, naming the handle. */
export async function getByHandle(tx: Tx, kind: HandleKind, handle: string): Promise<string> {
  const id = await tx.handles.find(kind, handle);
  if (id !== undefined) return id;
  throw new ServiceError('not-found', `There is no ${kind} "${handle}".`);
}
