/** Every lane, while what it needs is out of order: the fault is written once with its cause, then counted; another is news. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, onTestFinished, vi } from 'vitest';
import { readConfig } from '../../src/config.js';
import { ServiceError } from '../../src/errors.js';
import { openLog } from '../../src/log.js';
import { ALL_LANES, startLanes } from '../../src/main/lanes.js';
import { openStanchion, type Stanchion } from '../../src/main/opening.js';
import { LOOP_NAMES } from '../../src/ports/loops.js';
import { HOUR_MS, MINUTE_MS } from '../../src/units.js';
import { scratchFolder } from '../fixtures/program.js';

interface Line {
  readonly level: number;
  readonly msg: string;
  readonly loop?: string;
  readonly fault?: string;
  readonly times?: number;
  readonly error?: { readonly message: string; readonly cause?: { readonly code?: string } };
}

const PATH = '/srv/inbox/anna/home to Lantern Street.gpx';

/** What an adapter throws; source of the codes: errno(3). */
const fault = (code: string, message = 'It could not be kept.'): ServiceError =>
  new ServiceError('disk-failed', message, {
    cause: Object.assign(new Error(`${code}: it fails, open '${PATH}'`), { code, path: PATH }),
  });

const FAULTS = {
  'a full disk': fault('ENOSPC'),
  'no rights': fault('EACCES'),
  'a disk that may only be read': fault('EROFS'),
  'a store that is gone': new ServiceError('store-failed', 'The database server cannot be reached.', {
    cause: Object.assign(new Error('connect ECONNREFUSED 127.0.0.1:5432'), { code: 'ECONNREFUSED' }),
  }),
};

it.each(Object.entries(FAULTS))('%s', async (_name, first) => {
  const dataFolder = scratchFolder();
  const lines: Line[] = [];
  let failing: Error = first;
  const fails = async (): Promise<never> => {
    throw failing;
  };
  const opened = await openStanchion(readConfig({ STANCHION_DATA: dataFolder }), { now: null, make: true });
  onTestFinished(() => opened.close());
  // Each lane begins with what fails: the store, or the mailbox. The lane that sweeps has somebody to sweep out.
  writeFileSync(join(dataFolder, 'sweep-owed'), '');
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  onTestFinished(() => void vi.useRealTimers());
  const stanchion: Stanchion = {
    ...opened,
    store: { ...opened.store, read: fails, write: fails },
    mailbox: new Proxy({}, { get: () => fails }) as NonNullable<Stanchion['mailbox']>,
    rides: { address: 'rides@example.org', server: null, seal: {} } as unknown as Stanchion['rides'],
    log: openLog('info', { write: (line: string) => void lines.push(JSON.parse(line) as Line) }),
  };
  const lanes = startLanes(stanchion, ALL_LANES);
  expect(
    lanes
      .loops()
      .map(({ name }) => name)
      .sort(),
  ).toEqual([...LOOP_NAMES].sort());
  await vi.advanceTimersByTimeAsync(2 * HOUR_MS);
  const failed = new Map(lanes.loops().map(({ name, failedInARow }) => [name, failedInARow]));
  /** A lane that tries once an hour tells so each time: what did not come for ten minutes is news. */
  const linesOf = (name: string): number =>
    lanes.loops().find((one) => one.name === name)!.pauseS > 600 ? failed.get(name)! : 1;
  for (const [name, times] of failed) expect([name, times > 1]).toEqual([name, true]);
  const { code } = first.cause as NodeJS.ErrnoException;
  const told = lines.filter(({ msg }) => msg === 'a step failed and is tried again');
  for (const name of LOOP_NAMES)
    expect([name, told.filter(({ loop }) => loop === name).length]).toEqual([name, linesOf(name)]);
  for (const { error } of told) expect(error).toMatchObject({ message: first.message, cause: { code } });

  // What it has come to by now is still told, each of them; and what is new at once.
  failing = fault('EIO', 'The disk of the data folder failed.');
  const before = lines.length;
  await vi.advanceTimersByTimeAsync(HOUR_MS + 11 * MINUTE_MS);
  const news = lines.slice(before).filter(({ msg }) => msg === 'a step failed and is tried again');
  expect(new Set(news.map(({ loop }) => loop))).toEqual(new Set(LOOP_NAMES));
  for (const { error } of news) expect(error).toMatchObject({ cause: { code: 'EIO' } });
  for (const { loop, fault: key } of told) {
    const again = lines.filter(({ msg, fault: of }) => msg.startsWith('again: ') && of === key);
    const counted = linesOf(loop!) + again.reduce((sum, { times }) => sum + times!, 0);
    expect([loop, counted]).toEqual([loop, failed.get(loop!)]);
  }
  // Nothing else was written, and the name of the file nowhere.
  expect(lines.filter(({ level }) => level >= 50)).toHaveLength(
    told.length + news.length + lines.filter(({ msg }) => msg.startsWith('again: ')).length,
  );
  expect(JSON.stringify(lines)).not.toMatch(/anna|Lantern/);
  await lanes.stop();
});
