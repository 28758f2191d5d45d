import { describe, expect, it } from 'vitest';
import { ARCHIVE_LIMITS, ArchiveBudget, LimitReached } from '../../../src/files/archives/archiveLimits.js';
import { zipMembers } from '../../../src/files/archives/zipMembers.js';
import { textBytes } from '../../fixtures/gpxFile.js';
import { zipFile } from '../../fixtures/zipFile.js';

const entry = (name: string, text: string) => ({ name, bytes: textBytes(text) });
const members = (bytes: Uint8Array, limits = {}) =>
  zipMembers(bytes, 'a.zip', new ArchiveBudget({ ...ARCHIVE_LIMITS, ...limits }));

describe('zipMembers', () => {
  it('yields members in the order of the directory, with their bytes', async () => {
    const out: string[] = [];
    for await (const member of members(zipFile([entry('b', 'first'), entry('a', 'second')]))) {
      out.push(`${member.name} ${'bytes' in member ? new TextDecoder().decode(member.bytes) : ''}`);
    }
    expect(out).toEqual(['a.zip/b first', 'a.zip/a second']);
  });

  it('reads an archive that stands inside a larger piece of memory', async () => {
    const zip = zipFile([entry('a', 'here')]);
    const room = new Uint8Array(zip.length + 100);
    room.set(zip, 60);
    const { value } = await members(room.subarray(60, 60 + zip.length)).next();
    expect(value).toMatchObject({ name: 'a.zip/a', bytes: Buffer.from('here') });
  });

  it('refuses by what the directory declares before the first member is out', async () => {
    const zip = zipFile([entry('a', 'small'), { ...entry('b', 'large'), declaredSize: 3_000_000 }]);
    await expect(members(zip).next()).rejects.toThrow(LimitReached);
    await expect(members(zipFile([entry('a', ''), entry('b', '')]), { files: 1 }).next()).rejects.toThrow(
      LimitReached,
    );
  });

  it('says that what is no zip is damaged', async () => {
    expect((await members(textBytes('PK, but no more')).next()).value).toMatchObject({
      name: 'a.zip',
      problem: { code: 'unreadable' },
    });
  });

  /** Files that all point at the first one's bytes. */
  function overlapping(count: number): Uint8Array {
    const zip = Buffer.from(zipFile(Array.from({ length: count }, (_, i) => entry(`ride ${i}.gpx`, 'same'))));
    for (let at = zip.indexOf('PK\x01\x02'); at >= 0; at = zip.indexOf('PK\x01\x02', at + 1))
      zip.writeUInt32LE(0, at + 42);
    return zip;
  }

  it('refuses members that lie over one another before anything is unpacked', async () => {
    await expect(members(overlapping(2)).next()).rejects.toThrow('lie over one another');
  });

  it('refuses a list of names that is far longer than any, before it fills the memory', async () => {
    const long = Array.from({ length: 200 }, (_, i) => entry(`${i} ${'x'.repeat(60_000)}.gpx`, 'small'));
    await expect(members(zipFile(long)).next()).rejects.toThrow('list of its files is too long');
  });
});
