/** Turns in the drop folder: no rider's files hold up another's, and nothing is done over and over. */
import { setImmediate } from 'node:timers/promises';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { FolderTurns } from '../../../src/flow/take/folderTurns.js';
import { scanInboxOnce } from '../../../src/flow/take/scanInbox.js';
import { WHOLE_TURN } from '../../../src/flow/turn.js';
import { zipFile } from '../../fixtures/zipFile.js';
import { DOCUMENT } from '../flowWorld.js';
import { FolderWorld, gpx } from './folderWorld.js';

const TWO_RIDERS = {
  ...DOCUMENT,
  riders: [
    { id: 'r1', name: 'Rider One' },
    { id: 'r2', name: 'Rider Two' },
  ],
  bikes: [
    { id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' },
    { id: 'b2', rider: 'r2', name: 'Bike two', type: 'trail' },
  ],
};
const day = (n: number): string => `2025-05-${String(n).padStart(2, '0')}T08:00:00Z`;

/** A folder whose files each take two seconds to decode, by a clock that only decoding moves. */
async function slowFolder() {
  const folder = await FolderWorld.open(TWO_RIDERS);
  let now = 0;
  vi.spyOn(performance, 'now').mockImplementation(() => now);
  onTestFinished(() => void vi.restoreAllMocks());
  const decoded: string[] = [];
  const held = new Map<string, () => boolean>();
  const { reader } = folder.deps;
  const decode: typeof reader.decode = async (file, at) => {
    const owner = file.name.split('/')[0]!;
    while (held.get(owner)?.() === false) await setImmediate();
    now += 2000;
    decoded.push(owner);
    return reader.decode(file, at);
  };
  const turns = new FolderTurns();
  const turn = { isOver: () => false, signal: WHOLE_TURN.signal, doing: () => undefined };
  const step = () => scanInboxOnce({ ...folder.deps, reader: { ...reader, decode } }, turn, turns);
  /** Decodes nothing of a rider until something holds. */
  const hold = (owner: string, until: () => boolean) => void held.set(owner, until);
  return { folder, decoded, step, hold };
}

describe('a season in one archive', () => {
  it('takes many turns, in each of which the others have theirs, and counts each ride once', async () => {
    const { folder, decoded, step } = await slowFolder();
    const season = Array.from({ length: 24 }, (_, i) => ({ name: `${i}.gpx`, bytes: gpx(day(i + 1)) }));
    folder.put('r1/b1/season.zip', zipFile(season));
    folder.put('r2/b2/a.gpx', gpx(day(25)));
    const rows = async () => (await folder.rows()).map(({ path, settled }) => `${path} ${settled}`).sort();
    // The archive is one file, of which some is still to be read.
    expect(await step()).toMatchObject({ isMore: true, left: 1 });
    expect(await rows()).toEqual(['r1/b1/season.zip false', 'r2/b2/a.gpx true']);
    expect(folder.told('r1')).toMatch(/season\.zip: So far \d+ of the files in it are read\./);
    // How many more depends on how far files are read ahead of a slow store.
    let isMore = true;
    for (let steps = 0; isMore && steps < 20; steps += 1) ({ isMore } = await step());
    expect(isMore).toBe(false);
    expect(await rows()).toEqual(['r1/b1/season.zip true', 'r2/b2/a.gpx true']);
    expect(folder.told('r1')).toContain('season.zip: counted: 24');
    expect(decoded.filter((owner) => owner === 'r1')).toHaveLength(24);
    await folder.world.expectSound();
  });

  it('does not make a single file wait that was read meanwhile, however late that was', async () => {
    const { folder, decoded, step, hold } = await slowFolder();
    const season = Array.from({ length: 9 }, (_, i) => ({ name: `${i}.gpx`, bytes: gpx(day(i + 1)) }));
    folder.put('r1/b1/season.zip', zipFile(season));
    folder.put('r2/b2/a.gpx', gpx(day(25)));
    // By then both shares are over.
    hold('r2', () => decoded.filter((owner) => owner === 'r1').length >= 2);
    await step();
    expect(decoded.slice(0, 2)).toEqual(['r1', 'r1']);
    expect((await folder.rows()).map(({ path, settled }) => `${path} ${settled}`).sort()).toEqual([
      'r1/b1/season.zip false',
      'r2/b2/a.gpx true',
    ]);
    expect(folder.told('r2')).toMatch(/a\.gpx: kept/);
  });

  it('that is taken away in the middle leaves what was read, and waits for nothing', async () => {
    const { folder, step } = await slowFolder();
    const season = Array.from({ length: 9 }, (_, i) => ({ name: `${i}.gpx`, bytes: gpx(day(i + 1)) }));
    folder.put('r1/b1/season.zip', zipFile(season));
    folder.put('r1/b1/other.gpx', gpx(day(20)));
    await step();
    folder.remove('r1/b1/season.zip');
    for (let i = 0; i < 3; i += 1) await step();
    expect((await folder.rows()).map(({ path, settled }) => [path, settled])).toEqual([
      ['r1/b1/other.gpx', true],
    ]);
    await folder.world.expectSound();
  });
});

it('an archive whose files decode slowly is given up after two minutes of slowness, and says so', async () => {
  const folder = await FolderWorld.open();
  const many = Array.from({ length: 60 }, (_, i) => ({
    name: `${i}.gpx`,
    bytes: gpx(day(1 + (i % 28)), 2 + i),
  }));
  folder.put('r1/b1/slow.zip', zipFile(many));
  const { reader } = folder.deps;
  let read = 0;
  const decode: typeof reader.decode = async (file, now) => {
    read += 1;
    file.took?.(9000);
    return reader.decode(file, now);
  };
  await scanInboxOnce({ ...folder.deps, reader: { ...reader, decode } });
  // Eight seconds each beyond the one that a file may take.
  expect(read).toBeLessThan(20);
  expect(folder.told()).toMatch(/slow\.zip: .*set aside/);
  expect(folder.told()).toContain('Reading the files in it took too long, so the rest was left out.');
  expect(await folder.scan()).toBe(false);
});

it('a file that is replaced again and again is kept a few times, and once more when it stands still', async () => {
  const folder = await FolderWorld.open();
  const turns = new FolderTurns();
  const kept = new Set<string>();
  const originals = {
    keep: async (bytes: Uint8Array) => {
      const sha256 = await folder.deps.originals.keep(bytes);
      kept.add(sha256);
      return sha256;
    },
  };
  const scan = () => scanInboxOnce({ ...folder.deps, originals }, WHOLE_TURN, turns);
  for (let n = 1; n <= 20; n += 1) {
    folder.put('r1/b1/live.gpx', gpx(day(n), 5 + n));
    await scan();
  }
  expect(kept.size).toBe(3);
  expect(folder.told()).toMatch(/live\.gpx: It keeps changing\. It is taken once it has not changed/);
  folder.world.now = '2025-06-18T12:01:01Z';
  await scan();
  expect(kept.size).toBe(4);
  expect(folder.told()).toMatch(/live\.gpx: counted$/m);
  await folder.world.expectSound();
});

it('a file that failed is not tried again while it is unchanged', async () => {
  const folder = await FolderWorld.open();
  folder.put('r1/b1/half.gpx', gpx(day(1)).subarray(0, 5000));
  folder.put('r1/b1/odd.gpx', gpx(day(2)));
  const { reader } = folder.deps;
  const open: typeof reader.open = (path, name) => {
    if (path.endsWith('odd.gpx')) throw new RangeError('out of bounds');
    return reader.open(path, name);
  };
  const turns = new FolderTurns();
  const scan = () => scanInboxOnce({ ...folder.deps, reader: { ...reader, open } }, WHOLE_TURN, turns);
  await scan();
  const first = folder.opened.length;
  for (let i = 0; i < 5; i += 1) await scan();
  expect(folder.opened.length).toBe(first);
  folder.put('r1/b1/odd.gpx', gpx(day(3)));
  await scan();
  expect(folder.opened.length).toBeGreaterThan(first);
});
