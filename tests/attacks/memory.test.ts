/** The largest files that are taken, many at once, under the limit of the shipped service. */
import { mkdirSync, readFileSync, renameSync, rmdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, it, onTestFinished } from 'vitest';
import { eventually } from '../fixtures/program.js';
import { slowFit } from '../soak/slowFit.js';
import { filesOf } from '../soak/soakWorld.js';
import { fileForm, openDoor, peakWhile } from './openDoor.js';

const MB = 1024 * 1024;
/** As `deploy/stanchion.service` has it. */
const LIMIT_BYTES = 1024 * MB;
const POINTS = 600_000;
const START = Date.UTC(2025, 4, 1);
const GROUPS = '/sys/fs/cgroup/memory';

/** Returns a group of processes that the machine holds to the limit; null where this user may make none. Source: cgroups(7). */
function limited(): { add(pid: number): void; peakBytes(): number } | null {
  const group = join(GROUPS, `stanchion-${process.pid}`);
  try {
    mkdirSync(group);
    writeFileSync(join(group, 'memory.limit_in_bytes'), String(LIMIT_BYTES));
  } catch {
    return null;
  }
  // Once the program has ended: what is told first is done last.
  onTestFinished(() => rmdirSync(group));
  return {
    add: (pid) => {
      writeFileSync(join(group, 'cgroup.procs'), String(pid));
    },
    peakBytes: () => Number(readFileSync(join(group, 'memory.max_usage_in_bytes'), 'utf8')),
  };
}

/** As many points as a file may have, in as many bytes. */
function largeGpx(startMs: number): Buffer {
  const points = Array.from({ length: POINTS }, (_, i) => {
    const time = new Date(startMs + i * 1000).toISOString().slice(0, 19);
    return `<trkpt lat="${(10 + (i % 5000) * 0.000045).toFixed(6)}" lon="20.0"><ele>${i % 300}.0</ele><time>${time}Z</time></trkpt>`;
  });
  return Buffer.from(
    `<?xml version="1.0"?><gpx version="1.1" creator="a test" xmlns="http://www.topografix.com/GPX/1/1"><trk><type>cycling</type><trkseg>${points.join('\n')}</trkseg></trk></gpx>`,
  );
}

it('the largest files at once, laid down and sent, stay under 1 GB', async () => {
  const group = limited();
  const door = await openDoor();
  group?.add(door.serving.child.pid!);
  const gpx = largeGpx(START);
  const files = {
    gpx,
    fit: slowFit(START - 30 * 86_400_000, POINTS, 80),
    gz: gzipSync(largeGpx(START - 60 * 86_400_000)),
  };
  for (const bytes of Object.values(files)) expect(bytes.length).toBeLessThan(64_000_000);
  const lay = (rider: string, name: string, bytes: Uint8Array): void => {
    const folder = join(door.data, 'inbox', rider, `b-${rider}`);
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, `${name}.part`), bytes);
    renameSync(join(folder, `${name}.part`), join(folder, name));
  };
  const send = async (rider: string, name: string, bytes: Uint8Array): Promise<number> => {
    const { type, before, after } = fileForm(name);
    const headers = { 'content-type': type, accept: 'application/json' };
    const body = Buffer.concat([before, bytes, after]);
    return (await door.ask(`${await door.linkOf(rider, 'page')}/files`, { method: 'POST', headers, body }))
      .status;
  };
  const peak = await peakWhile(door.residentBytes, async () => {
    lay('r1', 'a.gpx', files.gpx);
    lay('r2', 'b.fit', files.fit);
    lay('r2', 'c.gpx.gz', files.gz);
    const sent = [
      send('r1', 'd.gpx', largeGpx(START - 90 * 86_400_000)),
      send('r2', 'e.fit', slowFit(START - 120 * 86_400_000, POINTS, 80)),
    ];
    expect(await Promise.all(sent)).toEqual([200, 200]);
    await eventually(() =>
      filesOf(door.data).filter(({ settled }) => settled === 1).length >= 3 ? true : null,
    );
  });
  const told =
    group === null
      ? 'no group of its own'
      : `${Math.round(group.peakBytes() / MB)} MB with what the disk keeps`;
  console.info(`the largest files at once: resident ${Math.round(peak / MB)} MB at most; ${told}`);
  expect(filesOf(door.data).map(({ outcome }) => outcome)).toEqual(['counted', 'counted', 'counted']);
  expect(door.serving.child.exitCode).toBe(null);
  expect((await door.ask('/healthz')).status).toBe(200);
  expect(peak).toBeLessThan(900 * MB);
}, 240_000);
