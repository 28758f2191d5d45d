import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { ServiceError } from '../../../src/errors.js';
import { ARCHIVE_LIMITS, type ArchiveLimits } from '../../../src/files/archives/archiveLimits.js';
import { openFile } from '../../../src/files/archives/openFile.js';
import { rideFit, straightRide } from '../../fixtures/fitFile.js';
import { openMade } from '../../fixtures/openMade.js';
import { type ZipEntry, zipFile } from '../../fixtures/zipFile.js';

const folder = mkdtempSync(join(tmpdir(), 'archives-'));
afterAll(() => rmSync(folder, { recursive: true }));

const fit = rideFit({ samples: straightRide(Date.UTC(2024, 4, 1), 5) }).bytes();
const zeros = new Uint8Array(4_000_000);
const LINK = 0o120777;

/** What comes out of a file. */
async function opened(bytes: Uint8Array, limits: Partial<ArchiveLimits> = {}): Promise<string[]> {
  const path = join(folder, 'an archive');
  writeFileSync(path, bytes);
  const all = { ...ARCHIVE_LIMITS, ...limits };
  return listed(openFile(path, 'a.zip', all));
}

async function listed(members: ReturnType<typeof openFile>): Promise<string[]> {
  const out: string[] = [];
  for await (const member of members) {
    out.push(`${member.name}: ${'problem' in member ? member.problem.code : member.bytes.length}`);
  }
  return out;
}

const zipped = (...entries: (Partial<ZipEntry> & { name: string })[]) =>
  zipFile(entries.map((entry) => ({ bytes: fit, ...entry })));

describe('openFile', () => {
  it('hands on a plain file as it is', async () => {
    expect(await opened(fit)).toEqual([`a.zip: ${fit.length}`]);
    expect(await opened(new Uint8Array())).toEqual(['a.zip: 0']);
  });

  it('opens gzip, zip, and gzip or zip inside zip', async () => {
    const size = fit.length;
    expect(await opened(gzipSync(fit))).toEqual([`a.zip: ${size}`]);
    expect(await opened(zipped({ name: 'b.fit' }, { name: 'c/d.fit' }))).toEqual([
      `a.zip/b.fit: ${size}`,
      `a.zip/c/d.fit: ${size}`,
    ]);
    expect(await opened(zipped({ name: 'b.fit.gz', bytes: gzipSync(fit) }))).toEqual([
      `a.zip/b.fit.gz: ${size}`,
    ]);
    expect(await opened(zipped({ name: 'b.zip', bytes: zipped({ name: 'c.fit' }) }))).toEqual([
      `a.zip/b.zip/c.fit: ${size}`,
    ]);
  });

  it('goes two levels deep and no deeper', async () => {
    const third = gzipSync(fit);
    const inner = zipped({ name: 'c.fit.gz', bytes: third });
    expect(await opened(zipped({ name: 'b.zip', bytes: inner }))).toEqual([
      `a.zip/b.zip/c.fit.gz: ${third.length}`,
    ]);
  });

  it('gives the bytes that were packed', async () => {
    for await (const member of openMade(zipped({ name: 'b.fit' }), 'a.zip')) {
      expect('bytes' in member && Buffer.from(fit).equals(member.bytes)).toBe(true);
    }
  });

  it('reads an archive that another program wrote', async () => {
    // Written by the zipfile module of Python 3.
    const written =
      'UEsDBBQAAAgIAFZ3eV2fmSPMNQAAADQAAAALAAAAw6kvcmlkZS5maXTjU+jmUGFgYNBz8wzpW+wAZDGwMDAyMDK1sL' +
      'C0cXCxM7AwMjCcmmWdmJSckpqWnpHJEPsJAFBLAQIUAxQAAAgIAFZ3eV2fmSPMNQAAADQAAAALAAAAAAAAAAAAAACA' +
      'AQAAAADDqS9yaWRlLmZpdFBLBQYAAAAAAQABADkAAABeAAAAAAA=';
    expect(await opened(Buffer.from(written, 'base64'))).toEqual(['a.zip/é/ride.fit: 52']);
  });

  it('passes over folders and hidden files', async () => {
    const bytes = zipped(
      { name: 'x/', bytes: new Uint8Array() },
      { name: '.hidden' },
      { name: '__MACOSX/x' },
      { name: 'x/.y' },
    );
    expect(await opened(bytes)).toEqual([]);
  });

  it('refuses names that lead out or hide what they are, and shows them', async () => {
    const names = ['../b.fit', '/b.fit', 'c\\b.fit', 'C:/b.fit', 'b\u202etif.exe'];
    expect(await opened(zipped(...names.map((name) => ({ name })), { name: 'good.fit' }))).toEqual([
      'a.zip/../b.fit: unsafe-path',
      'a.zip//b.fit: unsafe-path',
      'a.zip/c\\b.fit: unsafe-path',
      'a.zip/C:/b.fit: unsafe-path',
      'a.zip/b\\u{202e}tif.exe: unsafe-path',
      `a.zip/good.fit: ${fit.length}`,
    ]);
  });

  it('follows no link and no device, inside an archive or outside', async () => {
    const bytes = zipped(
      { name: 'b.fit', mode: LINK },
      { name: 'c.fit', mode: 0o020666 },
      { name: 'd.fit', mode: 0 },
    );
    expect(await opened(bytes)).toEqual([
      'a.zip/b.fit: link',
      'a.zip/c.fit: link',
      `a.zip/d.fit: ${fit.length}`,
    ]);
    symlinkSync('/etc/hostname', join(folder, 'link.fit'));
    expect(await listed(openFile(join(folder, 'link.fit'), 'link.fit'))).toEqual(['link.fit: link']);
    expect(await listed(openFile('/dev/null', 'null.fit'))).toEqual(['null.fit: link']);
  });

  it('says what is locked or damaged, and goes on', async () => {
    const bytes = zipped({ name: 'b.fit', flags: 1 }, { name: 'c.fit' }, { name: 'd.fit' });
    const damaged = Uint8Array.from(bytes);
    const start = Buffer.from(damaged).indexOf('c.fit') + 5;
    for (let i = 0; i < 8; i += 1) damaged[start + i]! ^= 0xff;
    expect(await opened(damaged)).toEqual([
      'a.zip/b.fit: unreadable',
      'a.zip/c.fit: unreadable',
      `a.zip/d.fit: ${fit.length}`,
    ]);
  });

  it('says that an archive is cut off', async () => {
    const bytes = zipped({ name: 'b.fit' });
    expect(await opened(bytes.subarray(0, bytes.length - 30))).toEqual(['a.zip: unreadable']);
    expect(await opened(gzipSync(fit).subarray(0, 60))).toEqual(['a.zip: unreadable']);
  });

  it('refuses a zip that unpacks to far more than it is, before anything is unpacked', async () => {
    expect(await opened(zipped({ name: 'good.fit' }, { name: 'b', bytes: zeros }))).toEqual([
      'a.zip: archive-limits',
    ]);
    expect(await opened(gzipSync(zeros))).toEqual(['a.zip: archive-limits']);
    expect(await opened(zipped({ name: 'b.gz', bytes: gzipSync(zeros) }))).toEqual(['a.zip: archive-limits']);
  });

  it('does not believe a zip that declares less than it holds', async () => {
    expect(await opened(zipped({ name: 'b', bytes: zeros, declaredSize: 1000 }))).toEqual([
      'a.zip/b: unreadable',
    ]);
  });

  it('refuses too many files and too many bytes in all, archives inside counted in', async () => {
    const two = zipped({ name: 'b.fit' }, { name: 'c.fit' });
    expect(await opened(two, { files: 2 })).toHaveLength(2);
    expect(await opened(two, { files: 1 })).toEqual(['a.zip: archive-limits']);
    expect(await opened(two, { totalBytes: fit.length * 2 - 1 })).toEqual(['a.zip: archive-limits']);
    const nested = zipped({ name: 'b.fit' }, { name: 'd.zip', bytes: two });
    expect(await opened(nested, { files: 3 })).toEqual([
      `a.zip/b.fit: ${fit.length}`,
      'a.zip: archive-limits',
    ]);
  });

  it('refuses one file that is too large, and reads the others', async () => {
    const bytes = zipped({ name: 'b', bytes: new Uint8Array(fit.length + 1) }, { name: 'c.fit' });
    expect(await opened(bytes, { memberBytes: fit.length })).toEqual([
      'a.zip/b: too-large',
      `a.zip/c.fit: ${fit.length}`,
    ]);
    expect(await opened(gzipSync(fit), { memberBytes: fit.length - 1 })).toEqual(['a.zip: too-large']);
    const path = join(folder, 'large.fit');
    writeFileSync(path, fit);
    const limits = { ...ARCHIVE_LIMITS, memberBytes: fit.length - 1 };
    expect(await listed(openFile(path, 'large.fit', limits))).toEqual(['large.fit: too-large']);
  });

  it('holds one file at a time', async () => {
    const noise = new Uint8Array(1_000_000).map((_, i) => (i * 2_654_435_761) >>> 13);
    const path = join(folder, 'many.zip');
    writeFileSync(path, zipFile(Array.from({ length: 60 }, (_, i) => ({ name: `${i}.bin`, bytes: noise }))));
    let highest = 0;
    const before = process.memoryUsage().arrayBuffers;
    for await (const member of openFile(path, 'many.zip')) {
      expect('bytes' in member && member.bytes.length).toBe(noise.length);
      highest = Math.max(highest, process.memoryUsage().arrayBuffers - before);
    }
    expect(highest).toBeLessThan(40_000_000);
  });

  it('throws where the disk is at fault', async () => {
    const missing = openFile(join(folder, 'nothing here'), 'x');
    await expect(missing.next()).rejects.toThrowError(ServiceError);
  });
});
