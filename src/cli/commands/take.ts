import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Command } from 'commander';
import type { Taken } from '../../flow/ingestFile.js';
import { refreshAllDue } from '../../flow/refreshDue.js';
import { takePath } from '../../flow/takePath.js';
import { listFiles, type Stanchion } from '../../main.js';
import { contextOf, getByHandle, withStanchion } from '../context.js';
import { startProgress } from '../progress.js';
import { setStatus } from '../status.js';

export function addTake(program: Command): void {
  program
    .command('take')
    .description('take files, folders and archives into the ledger')
    .argument('<path...>', 'files, folders or archives')
    .option('--rider <id>', 'whose rides these are')
    .option('--bike <id>', 'which bike they were on')
    .action(async (paths: string[], options: { rider?: string; bike?: string }, command: Command) => {
      const { out } = contextOf(command);
      await withStanchion(command, {}, async (stanchion) => {
        const { riderId, bikeId, bikes } = await stanchion.store.read(async (tx) => ({
          riderId: options.rider === undefined ? null : await getByHandle(tx, 'rider', options.rider),
          bikeId: options.bike === undefined ? null : await getByHandle(tx, 'bike', options.bike),
          bikes: await tx.handles.all('bike'),
        }));
        const progress = startProgress(out.json);
        const counts = new Map<string, number>();
        for await (const taken of takeAll(stanchion, paths, riderId, bikeId)) {
          const { bikeId: onBike, ...rest } = taken;
          out.object({ ...rest, bike: onBike === null ? null : (bikes.get(onBike) ?? null) });
          if (taken.outcome !== 'counted') progress.above(() => out.line(lineOf(taken)));
          if (taken.outcome === 'set-aside') setStatus(1);
          counts.set(taken.outcome, (counts.get(taken.outcome) ?? 0) + 1);
          progress.step(taken.file);
        }
        progress.done();
        out.line(
          [...counts].map(([outcome, count]) => `${count} ${WORDS[outcome as Taken['outcome']]}`).join(', '),
        );
        await refreshAllDue(stanchion);
      });
    });
}

async function* takeAll(
  stanchion: Stanchion,
  paths: readonly string[],
  riderId: string | null,
  bikeId: string | null,
): AsyncGenerator<Taken> {
  const handed = { riderId, bikeId, rule: bikeId === null ? null : 'chosen' } as const;
  for (const path of paths) {
    if (!(await lstat(path)).isDirectory()) {
      yield* takePath(stanchion, { ...handed, path, name: path });
      continue;
    }
    const { files, problems } = await listFiles(path);
    for (const file of files)
      yield* takePath(stanchion, { ...handed, path: file.at, name: join(path, file.path) });
    for (const { source, code, message } of problems) {
      const file = join(path, source);
      yield { file, outcome: 'set-aside', code, reason: message, rides: [], bikeId: null, bikeRule: null };
    }
  }
}

const WORDS: Readonly<Record<Taken['outcome'], string>> = {
  counted: 'counted',
  'counted-already': 'counted already',
  joined: 'joined with another recording of the same ride',
  ask: 'waiting in the tray',
  'no-ride': 'no ride',
  'set-aside': 'set aside',
};

const lineOf = ({ file, outcome, reason }: Taken): string =>
  `${file}: ${WORDS[outcome]}${reason === null ? '' : `. ${reason}`}`;
