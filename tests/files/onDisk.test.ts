import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { ServiceError } from '../../src/errors.js';
import { isWholeFile } from '../../src/files/isWhole.js';
import { onDisk } from '../../src/files/onDisk.js';

describe('onDisk', () => {
  it('says that the disk failed, and may be tried again', async () => {
    const failure = await onDisk(() => readFile('/nothing/here')).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(ServiceError);
    expect(failure).toMatchObject({ code: 'disk-failed', permanent: false });
    await expect(isWholeFile('/nothing/here')).rejects.toThrow(ServiceError);
  });

  it('lets any other error be', async () => {
    await expect(onDisk(() => Promise.reject(new RangeError('ours')))).rejects.toThrow(RangeError);
    expect(await onDisk(() => Promise.resolve(7))).toBe(7);
  });
});
