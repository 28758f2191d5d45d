/** A disk that is full or read-only: what is said, and that all goes on by itself once it is put right. */
import { mkdirSync, renameSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { eventually, runProgram, scratchFolder } from '../fixtures/program.js';
import {
  canMount,
  countedRides,
  expectSound,
  layDown,
  putLedger,
  rideText,
  serveIn,
  smallDisk,
  untilCounted,
  whatHappened,
} from './serving.js';

const PATIENCE_MS = 180_000;
const WHY = canMount ? '' : ' (left out: this user may not mount a disk)';

/** Writes until nothing more fits. */
function fill(path: string): void {
  for (let bytes = 1 << 20; bytes >= 512; bytes = Math.floor(bytes / 2)) {
    try {
      for (;;) writeFileSync(path, new Uint8Array(bytes), { flag: 'a' });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error;
    }
  }
}

describe.skipIf(!canMount)(`a real disk${WHY}`, () => {
  it(
    'full: says so, keeps answering, and counts the ride once there is room again',
    async () => {
      const { folder: data } = smallDisk(12_000_000);
      await putLedger(data);
      const serving = await serveIn(data);
      layDown(data, 'first.gpx', rideText(1));
      await untilCounted(data, 1);
      writeFileSync(join(data, 'inbox/second.part'), rideText(2));
      fill(join(data, 'filler'));
      expect(statSync(join(data, 'filler')).size).toBeGreaterThan(1_000_000);
      // Moved within the disk, so that nothing is written.
      renameSync(join(data, 'inbox/second.part'), join(data, 'inbox/r1/b1/second.gpx'));
      await eventually(() => (/disk is full|Is the disk full/i.test(serving.log()) ? true : null));
      expect((await serving.get('/sign-in')).status).toBe(200);
      expect(serving.child.exitCode).toBeNull();
      rmSync(join(data, 'filler'));
      await untilCounted(data, 2);
      expect((await serving.get('/readyz')).status).toBe(200);
      expect(await serving.stop()).toBe(0);
      expectSound(data);
    },
    PATIENCE_MS,
  );

  it(
    'read-only for the kept files: says so in the rider’s folder, and counts the ride once it may write',
    async () => {
      const data = scratchFolder();
      await putLedger(data);
      const disk = smallDisk(4_000_000);
      // The kept files lie on a disk of their own.
      rmSync(join(data, 'originals'), { recursive: true, force: true });
      symlinkSync(disk.folder, join(data, 'originals'));
      disk.remount('ro');
      const serving = await serveIn(data);
      layDown(data, 'ride.gpx', rideText(1));
      await eventually(() => (/could not be taken/.test(serving.log()) ? true : null));
      const told = await eventually(() => {
        const text = whatHappened(data);
        return text.includes('ride.gpx') ? text : null;
      });
      expect(told).toMatch(/ride\.gpx: .*It cannot be read or kept right now/);
      // What is wrong with the disk is for whoever runs it.
      expect(serving.log()).toMatch(/could not be written.*can only be read/);
      expect(await countedRides(data)).toBe(0);
      disk.remount('rw');
      await untilCounted(data, 1);
      expect(await serving.stop()).toBe(0);
      expectSound(data);
    },
    PATIENCE_MS,
  );

  it('read-only from the start: refuses with what to do, and a repaired one starts', async () => {
    const disk = smallDisk(8_000_000);
    const data = join(disk.folder, 'data');
    mkdirSync(data);
    await putLedger(data);
    disk.remount('ro');
    for (const args of [['serve', '--port', '0'], ['due'], ['take', disk.folder]]) {
      const { status, stderr } = runProgram([...args, '--data', data]);
      expect([args[0], status]).toEqual([args[0], 3]);
      expect(stderr).toMatch(/cannot be opened\. The disk of .* can only be read\.\nMount it/);
    }
    disk.remount('rw');
    const serving = await serveIn(data);
    expect((await serving.get('/readyz')).status).toBe(200);
  });
});
