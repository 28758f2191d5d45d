import type { Inbox, InboxFile, InboxRow } from '../ports.js';
import { type Instant, MINUTE_MS } from '../units.js';
import type { Deps } from './deps.js';
import type { Taken } from './ingestFile.js';
import { takePath } from './takePath.js';

/** A file that is not whole by its own format is taken as damaged once it stood still for so long. */
const STILL_MS = 5 * MINUTE_MS;

export interface ScanDeps extends Deps {
  readonly inbox: Inbox;
}

/**
 * Scans the whole drop folder once and takes what is ready; true when anything was taken.
 *
 * A file is ready when
 * - it is whole by its own format (FIT size and checksum, GPX closing tag, the directory of a zip), or
 * - it has stood still, in size and time, for five minutes: then it is taken as damaged or refused.
 * A file that was taken is looked at again only when its size or time changes. What is gone is not missed.
 */
export async function scanInboxOnce(deps: ScanDeps): Promise<boolean> {
  const now = deps.clock.now();
  const { files, problems } = await deps.inbox.scan();
  const known = new Map((await deps.store.read((tx) => tx.inbox.list())).map((row) => [row.path, row]));
  const changed = new Set<string>();
  for (const file of files) {
    const row = known.get(file.path);
    const isSame = row !== undefined && row.bytes === file.bytes && row.modifiedMs === file.modifiedMs;
    if (isSame && row.settled) continue;
    const seenAt = isSame ? row.seenAt : now;
    const isReady = (await deps.reader.isWhole(file.at)) || now - seenAt >= STILL_MS;
    if (isReady) {
      await settle(deps, file, now);
      changed.add(folderOf(file.path));
    } else if (!isSame) {
      await put(deps, { ...rowOf(file, now), settled: false, outcome: null, code: null, reason: null });
    }
  }
  for (const { code, message, source } of problems) {
    if (known.get(source)?.code === code) continue;
    const row = { path: source, bytes: 0, modifiedMs: 0, seenAt: now, settled: true };
    await put(deps, { ...row, outcome: 'set-aside', code, reason: message });
    changed.add(folderOf(source));
  }
  for (const folder of changed) if (folder !== '') await tellRider(deps, folder);
  return changed.size > 0;
}

const folderOf = (path: string): string => (path.includes('/') ? path.slice(0, path.indexOf('/')) : '');

const rowOf = (file: InboxFile, seenAt: Instant) => ({
  path: file.path,
  bytes: file.bytes,
  modifiedMs: file.modifiedMs,
  seenAt,
});

const put = (deps: ScanDeps, row: InboxRow): Promise<void> => deps.store.write((tx) => tx.inbox.put(row));

async function settle(deps: ScanDeps, file: InboxFile, now: Instant): Promise<void> {
  const [rider, bike] = file.path.split('/').slice(0, -1);
  const { riderId, bikeId } = await deps.store.read(async (tx) => ({
    riderId: rider === undefined ? null : ((await tx.handles.find('rider', rider)) ?? null),
    bikeId: bike === undefined ? null : ((await tx.handles.find('bike', bike)) ?? null),
  }));
  const taken: Taken[] = [];
  const handed = {
    path: file.at,
    name: file.path,
    riderId,
    bikeId,
    rule: bikeId === null ? null : 'subfolder',
  } as const;
  for await (const one of takePath(deps, handed)) taken.push(one);
  await put(deps, { ...rowOf(file, now), settled: true, ...summaryOf(taken) });
}

/** An archive is told by how many of its files came to what. */
function summaryOf(taken: readonly Taken[]): Pick<InboxRow, 'outcome' | 'code' | 'reason'> {
  const [first] = taken;
  if (first !== undefined && taken.length === 1)
    return { outcome: first.outcome, code: first.code, reason: first.reason };
  const counts = new Map<string, number>();
  for (const one of taken) counts.set(one.outcome, (counts.get(one.outcome) ?? 0) + 1);
  const reason = [...counts]
    .map(([outcome, count]) => `${count} ${TOLD[outcome as Taken['outcome']]}`)
    .join(', ');
  return {
    outcome: taken.length === 0 ? 'set-aside' : 'archive',
    code: null,
    reason: reason || 'an empty archive',
  };
}

const TOLD: Readonly<Record<Taken['outcome'], string>> = {
  counted: 'counted',
  'counted-already': 'counted before, nothing added',
  joined: 'joined with another recording of the same ride',
  ask: 'waiting for an answer',
  'no-ride': 'not a ride',
  'set-aside': 'set aside',
};

/** A line a file, so that nobody needs to guess what became of it. */
async function tellRider({ store, inbox }: ScanDeps, folder: string): Promise<void> {
  const rows = (await store.read((tx) => tx.inbox.list())).filter((row) => row.path.startsWith(`${folder}/`));
  const lines = rows.map((row) => {
    const name = row.path.slice(folder.length + 1);
    if (!row.settled) return `${name}: still being copied, it seems; looked at again soon`;
    const told = row.outcome === 'archive' ? row.reason : TOLD[row.outcome as Taken['outcome']];
    const reason = row.reason === null || row.outcome === 'archive' ? '' : `. ${row.reason}`;
    return `${name}: ${told}${reason}`;
  });
  await inbox.tell(
    folder,
    `What happened to the files in this folder. None was moved or changed.\n\n${lines.join('\n')}\n`,
  );
}
