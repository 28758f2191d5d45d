import { dirname, relative, resolve, sep } from 'node:path';
import type { Command } from 'commander';
import type { ToldOutcome } from '../../core/tokens.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { changesText } from '../../flow/rides/rideChanges.js';
import { sayFilesLeft } from '../../flow/take/filesLeft.js';
import { ARCHIVE, type FolderMeaning, openFolderMeanings, sayingOf } from '../../flow/take/folderMeaning.js';
import { type Taken, toldOutcome } from '../../flow/take/ingestFile.js';
import { type HandedHow, takeMembers } from '../../flow/take/takePath.js';
import type { Stanchion } from '../../main.js';
import type { FileMember } from '../../ports/reader.js';
import { countFiles } from '../../reader.js';
import { msOf } from '../../units.js';
import { contextOf } from '../context.js';
import { type FoundFile, filesAt, orComplain } from '../filesAt.js';
import { interrupted, noteAsked } from '../interrupted.js';
import { getByHandle, withStanchion } from '../opened.js';
import type { Output } from '../output.js';
import { type Progress, startProgress } from '../progress.js';
import { setStatus } from '../status.js';
import { reasonText } from '../takenText.js';

interface TakeOptions {
  rider?: string;
  bike?: string;
}

export const take = async (paths: string[], options: TakeOptions, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const asked = noteAsked();
    try {
      await takeAll(stanchion, paths, options, { out, asked });
    } finally {
      asked.done();
    }
  });
};

async function takeAll(
  stanchion: Stanchion,
  paths: readonly string[],
  { rider, bike }: TakeOptions,
  { out, asked }: { readonly out: Output; readonly asked: { readonly isAsked: boolean } },
): Promise<void> {
  const { howOf, bikes } = await stanchion.store.read(async (tx) => {
    const riderId = rider === undefined ? null : await getByHandle(tx, 'rider', rider);
    const bikeId = bike === undefined ? null : await getByHandle(tx, 'bike', bike);
    const rule = bikeId === null ? null : ('chosen' as const);
    const chosen: HandedHow = { riderId, bikeId, rule, ...(riderId !== null && { riderRule: 'chosen' }) };
    const meaningOf = await openFolderMeanings(tx);
    const howOf = (name: string): HandedHow => ({
      ...(bikeId === null ? sayingAt(meaningOf, waysTo(name, paths, rider), chosen) : chosen),
      way: 'command',
    });
    return { howOf, bikes: await tx.handles.all('bike') };
  });
  const progress = startProgress();
  const sayLeft = sayingLeft(stanchion);
  const counts = new Map<ToldOutcome, number>();
  for await (const taken of takeMembers(
    stanchion,
    until(() => asked.isAsked, membersAt(stanchion, paths, out, progress)),
    howOf,
  )) {
    const { bikeId, changed, about: _about, named: _named, sha256: _content, ...rest } = taken;
    out.object({
      ...rest,
      reason: reasonText(taken),
      bike: bikeId === null ? null : (bikes.get(bikeId) ?? null),
      changed: changed.map(({ tag, movingS, terrainS }) => ({ unit: tag, movingS, terrainS })),
    });
    const told = toldOutcome(taken);
    if (told !== 'counted') progress.above(() => out.line(lineOf(taken)));
    if (taken.outcome === 'set-aside') setStatus(1);
    counts.set(told, (counts.get(told) ?? 0) + 1);
    progress.step(taken.file);
    await sayLeft(progress.left());
  }
  progress.done();
  await sayLeft(null);
  const sums = [...counts].map(([outcome, count]) => `${count} ${WORDS[outcome]}`);
  out.line(sums.length > 0 ? `${sums.join(', ')}.` : 'There was no file to take.');
  if (asked.isAsked && progress.left() > 0)
    throw interrupted({
      message: `Interrupted: ${progress.left()} files are left.`,
      hint: 'Give the same command again: what was taken is kept and counts once.',
    });
  await refreshAllDue(stanchion);
}

const FIRST_SAID_MS = msOf(2);
const SAID_MS = msOf(30);

/** Returns what says now and then, to whoever looks at the pages, how many files are left. */
function sayingLeft({ store }: Stanchion): (left: number | null) => Promise<void> {
  let nextAt = performance.now() + FIRST_SAID_MS;
  let isSaid = false;
  return async (left) => {
    if (left === null ? !isSaid : performance.now() < nextAt) return;
    nextAt = performance.now() + SAID_MS;
    isSaid = true;
    await store.write((tx) => sayFilesLeft(tx, left));
  };
}

async function* until<T>(isOver: () => boolean, all: AsyncIterable<T>): AsyncGenerator<T> {
  for await (const one of all) {
    if (isOver()) return;
    yield one;
  }
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
    progress.expect(
      'problem' in found ? 1 : ((await orComplain(out, () => countFiles(found.path), found.name)) ?? 0),
    );
  }
  for (const found of all) {
    if ('problem' in found) {
      yield found;
      continue;
    }
    const members = reader.open(found.path, found.name)[Symbol.asyncIterator]();
    for (;;) {
      const next = await orComplain(out, () => members.next(), found.name);
      if (next === null || next.done) break;
      yield next.value;
    }
  }
}

/** Returns the ways in which the folders around a file may be meant: from the path that was given, or from above it. */
function waysTo(name: string, paths: readonly string[], rider: string | undefined): string[] {
  const below = paths.find((path) => name.startsWith(`${path.replace(/\/+$/, '')}/`));
  const isArchive = below !== undefined && ARCHIVE.test(below);
  const from = below === undefined || isArchive ? dirname(below ?? name) : below;
  const rest = relative(from, name).split(sep).join('/');
  if (rider !== undefined) return [`${rider}/${rest}`];
  if (below === undefined || isArchive) return [rest];
  const above = resolve(below).split(sep).slice(-2);
  return [rest, `${above.at(-1)}/${rest}`, `${above.join('/')}/${rest}`];
}

/** The first way in which the folders say anything; what was chosen stands above it. */
function sayingAt(
  meaningOf: (path: string) => FolderMeaning,
  ways: readonly string[],
  chosen: HandedHow,
): HandedHow {
  const says = ways.map((way) => sayingOf(meaningOf, way));
  const clear = says.find((one) => one.riderId !== null || one.bikeId !== null) ?? says[0]!;
  return chosen.riderId === null ? clear : { ...clear, ...chosen, bikeId: clear.bikeId, rule: clear.rule };
}

const WORDS: Readonly<Record<ToldOutcome, string>> = {
  counted: 'counted',
  'counted-already': 'counted already',
  'counts-now': 'counts now',
  moved: 'moved from another bike',
  'kept-only': 'kept, counts for no fork or shock',
  indoors: 'ridden indoors, no hours added',
  joined: 'joined with another recording of the same ride',
  ask: 'waiting in the tray',
  'no-ride': 'no ride',
  'set-aside': 'set aside',
};

function lineOf(taken: Taken): string {
  const { file, changed } = taken;
  const reason = reasonText(taken);
  const hours = changesText(changed);
  const what = `${WORDS[toldOutcome(taken)]}${hours === '' ? '' : ` (${hours})`}`;
  return `${file}: ${what}${reason === null ? '' : `. ${reason}`}`;
}
