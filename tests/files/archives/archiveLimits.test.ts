import { Readable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { ServiceError } from '../../../src/errors.js';
import {
  ARCHIVE_LIMITS,
  ArchiveBudget,
  LimitReached,
  unpacked,
} from '../../../src/files/archives/archiveLimits.js';

const MB = 1024 * 1024;
const pieces = (count: number) => Readable.from(Array.from({ length: count }, () => new Uint8Array(MB)));
const budget = (limits = {}) => new ArchiveBudget({ ...ARCHIVE_LIMITS, ...limits });

function failing(error: Error): Readable {
  return new Readable({
    read() {
      this.destroy(error);
    },
  });
}

describe('ArchiveBudget', () => {
  it('allows what reaches a limit exactly, and nothing over it', () => {
    const exact = budget({ files: 3, totalBytes: 10 });
    exact.addFiles(3);
    exact.addBytes(10);
    expect(() => exact.addFiles(1)).toThrow(LimitReached);
    expect(() => exact.addBytes(1)).toThrow(LimitReached);
  });

  it('looks at the ratio only where it could do harm', () => {
    expect(() => budget().checkRatio(MB, 1)).not.toThrow();
    expect(() => budget().checkRatio(2 * MB, (2 * MB) / 200)).not.toThrow();
    expect(() => budget().checkRatio(2 * MB + 200, (2 * MB) / 200)).toThrow(LimitReached);
  });
});

describe('unpacked', () => {
  it('joins the pieces', async () => {
    const bytes = await unpacked(Readable.from([Uint8Array.of(1, 2), Uint8Array.of(3)]), 3, budget());
    expect(bytes).toEqual(Buffer.from([1, 2, 3]));
  });

  it('stops at the first piece over a limit, and lets go of the stream', async () => {
    const tooMuch = pieces(50);
    await expect(unpacked(tooMuch, 50 * MB, budget({ totalBytes: 3 * MB }))).rejects.toThrow(LimitReached);
    expect(tooMuch.destroyed).toBe(true);
    const tooLarge = pieces(50);
    expect(await unpacked(tooLarge, 50 * MB, budget({ memberBytes: 3 * MB }))).toBe('too-large');
    expect(tooLarge.destroyed).toBe(true);
    await expect(unpacked(pieces(50), 10, budget())).rejects.toThrow(LimitReached);
  });

  it('tells a damaged archive from a disk that fails', async () => {
    expect(await unpacked(failing(new Error('unexpected end of file')), 1, budget())).toBe('damaged');
    const disk = Object.assign(new Error('EIO'), { syscall: 'read', code: 'EIO' });
    await expect(unpacked(failing(disk), 1, budget())).rejects.toThrow(ServiceError);
  });
});
