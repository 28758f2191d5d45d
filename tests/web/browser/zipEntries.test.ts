/** The zip reader that runs in a browser, against the fields of the format and what another archiver's reader says. */
import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { fromBuffer } from 'yauzl';
import { zipFile } from '../../fixtures/zipFile.js';

interface Entry {
  readonly name: string;
  readonly size: number;
}

// Typed by its comments in a project of its own, which knows a browser and not Node.
const { bytesOf, entriesOf, NoZip } = (await import(
  new URL('../../../src/web/browser/zipEntries.js', import.meta.url).href
)) as {
  entriesOf(file: Blob): Promise<readonly Entry[]>;
  bytesOf(file: Blob, entry: Entry): Promise<Uint8Array>;
  readonly NoZip: new () => Error;
};

const blobOf = (bytes: Uint8Array): Blob => new Blob([new Uint8Array(bytes)]);
const text = (of: string): Uint8Array => new TextEncoder().encode(of);

/** What yauzl, an independent reader, lists: name and size. */
const listedByYauzl = (bytes: Uint8Array): Promise<[string, number][]> =>
  new Promise((resolve, reject) => {
    fromBuffer(Buffer.from(bytes), { lazyEntries: false }, (error, zip) => {
      if (error) return reject(error);
      const found: [string, number][] = [];
      zip.on('entry', (entry) => found.push([entry.fileName, entry.uncompressedSize]));
      zip.on('end', () => resolve(found));
      zip.on('error', reject);
    });
  });

it('lists what yauzl lists, and gives back each content', async () => {
  const file = fc.record({
    name: fc.stringMatching(/^[a-zé ]{1,12}(\/[a-z0-9]{1,12})?$/),
    bytes: fc.uint8Array({ maxLength: 400 }),
    flags: fc.constantFrom(0, 8),
  });
  await fc.assert(
    fc.asyncProperty(fc.array(file, { minLength: 1, maxLength: 6 }), async (files) => {
      const zip = zipFile(files);
      const blob = blobOf(zip);
      const entries = await entriesOf(blob);
      expect(entries.map(({ name, size }) => [name, size])).toEqual(await listedByYauzl(zip));
      for (const [i, entry] of entries.entries())
        expect(await bytesOf(blob, entry)).toEqual(new Uint8Array(files[i]!.bytes));
    }),
    { numRuns: 40 },
  );
});

it('refuses what is no zip, cut off, or larger than it says, and takes no longer for it', async () => {
  const zip = zipFile([{ name: 'a.fit', bytes: text('x'.repeat(5000)) }]);
  await expect(entriesOf(blobOf(text('no zip at all')))).rejects.toThrow(NoZip);
  await expect(entriesOf(blobOf(zip.slice(0, -30)))).rejects.toThrow(NoZip);
  const bomb = blobOf(zipFile([{ name: 'a.fit', bytes: new Uint8Array(3_000_000), declaredSize: 10 }]));
  const [entry] = await entriesOf(bomb);
  await expect(bytesOf(bomb, entry!)).rejects.toThrow(NoZip);
  const locked = blobOf(zipFile([{ name: 'a.fit', bytes: text('x'), flags: 1 }]));
  await expect(bytesOf(locked, (await entriesOf(locked))[0]!)).rejects.toThrow(NoZip);
});

it('reads whatever bytes come to an end or a refusal', async () => {
  const zip = zipFile([
    { name: 'a.fit', bytes: text('one') },
    { name: 'b.gpx', bytes: text('two') },
  ]);
  await fc.assert(
    fc.asyncProperty(fc.nat(zip.length - 1), fc.nat(255), async (at, byte) => {
      const changed = Uint8Array.from(zip);
      changed[at] = byte;
      const blob = blobOf(changed);
      const entries = await entriesOf(blob).catch(() => []);
      for (const entry of entries) if (entry.size < 1e6) await bytesOf(blob, entry).catch(() => null);
    }),
    { numRuns: 200 },
  );
});

/** One entry whose sizes and place stand in 64 bits. Source: APPNOTE.TXT 4.3.14, 4.3.15 and 4.5.3. */
function zip64(name: string, bytes: Uint8Array): Uint8Array {
  const le = (size: number, ...values: number[]): Buffer =>
    Buffer.concat(
      values.map((value) => {
        const one = Buffer.alloc(size);
        one.writeUIntLE(value, 0, Math.min(size, 6));
        return one;
      }),
    );
  const packed = deflateRawSync(bytes);
  const named = Buffer.from(name);
  const local = Buffer.concat([le(4, 0x04034b50), Buffer.alloc(22), le(2, named.length, 0), named, packed]);
  const extra = Buffer.concat([le(2, 1, 24), le(8, bytes.length, packed.length, 0)]);
  const full = [0xffffffff, 0xffffffff] as const;
  const listed = Buffer.concat([
    le(4, 0x02014b50),
    le(2, 45, 45, 0, 8, 0, 0),
    le(4, 0, ...full),
    le(2, named.length, extra.length, 0, 0, 0),
    le(4, 0, 0xffffffff),
    named,
    extra,
  ]);
  const at = local.length + listed.length;
  const end64 = Buffer.concat([
    le(4, 0x06064b50),
    le(8, 44),
    le(2, 45, 45),
    le(4, 0, 0),
    le(8, 1, 1, listed.length, local.length),
  ]);
  const place = Buffer.concat([le(4, 0x07064b50, 0), le(8, at), le(4, 1)]);
  const end = Buffer.concat([le(4, 0x06054b50), le(2, 0, 0, 0xffff, 0xffff), le(4, ...full), le(2, 0)]);
  return Buffer.concat([local, listed, end64, place, end]);
}

it('reads sizes and places of 64 bits', async () => {
  const bytes = text('a ride of another size');
  const zip = zip64('2026/a.fit', bytes);
  expect(await listedByYauzl(zip)).toEqual([['2026/a.fit', bytes.length]]);
  const blob = blobOf(zip);
  const [entry] = await entriesOf(blob);
  expect(entry).toMatchObject({ name: '2026/a.fit', size: bytes.length });
  expect(await bytesOf(blob, entry!)).toEqual(bytes);
});
