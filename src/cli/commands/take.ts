import type { Command } from 'commander';
import type { ToldOutcome } from '../../core/tokens.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { type Taken, toldOutcome } from '../../flow/take/ingestFile.js';
import { type HandedHow, takeMembers } from '../../flow/take/takePath.js';
import type { Stanchion } from '../../main.js';
import type { FileMember } from '../../ports/reader.js';
import { countFiles } from '../../reader.js';
import { contextOf } from '../context.js';
import { type FoundFile, filesAt, orComplain } from '../filesAt.js';
import { getByHandle, withStanchion } from '../opened.js';
import type { Output } from '../output.js';
import { type Progress, startProgress } from '../progress.js';
import { setStatus } from '../status.js';

interface TakeOptions {
  rider?: string;
  bike?: string;
}

export const take = async (paths: string[], options: TakeOptions, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, (stanchion) => takeAll(stanchion, paths, options, out));
};

async function takeAll(
  stanchion: Stanchion,
  paths: readonly string[],
  { rider, bike }: TakeOptions,
  out: Output,
): Promise<void> {
  const { how, bikes } = await stanchion.store.read(async (tx) => {
    const riderId = rider === undefined ? null : await getByHandle(tx, 'rider', rider);
    const bikeId = bike === undefined ? null : await getByHandle(tx, 'bike', bike);
    const rule = bikeId === null ? null : ('chosen' as const);
    return { how: { riderId, bikeId, rule } satisfies HandedHow, bikes: await tx.handles.all('bike') };
  });
  const progress = startProgress();
  const counts = new Map<ToldOutcome, number>();
  for await (const taken of takeMembers(stanchion, membersAt(stanchion, paths, out, progress), how)) {
    const { bikeId, ...rest } = taken;
    out.object({ ...rest, bike: bikeId === null ? null : (bikes.get(bikeId) ?? null) });
    const told = toldOutcome(taken);
    if (told !== 'counted') progress.above(() => out.line(lineOf(taken)));
    if (taken.outcome === 'set-aside') setStatus(1);
    counts.set(told, (counts.get(told) ?? 0) + 1);
    progress.step(taken.file);
  }
  progress.done();
  const sums = [...counts].map(([outcome, count]) => `${count} ${WORDS[outcome]}`);
  out.line(sums.length > 0 ? `${sums.join(', ')}.` : 'There was no file to take.');
  await refreshAllDue(stanchion);
}

async function* membersAt(
  { reader }: Stanchion,
  paths: readonly string[],
  out: Output,
  progress: Progress,
): AsyncGenerator<FileMember> {
  const all: FoundFile[] = [];
  for await (const found of filesAt(paths, out)) {
    all.push(found);
    progress.expect('problem' in found ? 1 : ((await orComplain(out, () => countFiles(found.path))) ?? 0));
  }
  for (const found of all) {
    if ('problem' in found) {
      yield found;
      continue;
    }
    const members = reader.open(found.path, found.name)[Symbol.asyncIterator]();
    for (;;) {
      const next = await orComplain(out, () => members.next());
      if (next === null || next.done) break;
      yield next.value;
    }
  }
}

const WORDS: Readonly<Record<ToldOutcome, string>> = {
  counted: 'counted',
  'counted-already': 'counted already',
  indoors: 'ridden indoors, no hours added',
  joined: 'joined with another recording of the same ride',
  ask: 'waiting in the tray',
  'no-ride': 'no ride',
  'set-aside': 'set aside',
};

function lineOf(taken: Taken): string {
  const { file, reason } = taken;
  return `${file}: ${WORDS[toldOutcome(taken)]}${reason === null ? '' : `. ${reason}`}`;
}
