import fc from 'fast-check';
import { expect, it } from 'vitest';
import { boundaryOf, Malformed, multipart } from '../../../src/web/door/multipart.js';

async function* inChunks(bytes: Uint8Array, sizes: readonly number[]): AsyncGenerator<Uint8Array> {
  let [at, i] = [0, 0];
  while (at < bytes.length) {
    const size = sizes[i++ % sizes.length]!;
    yield bytes.subarray(at, at + size);
    at += size;
  }
}

interface Read {
  readonly name: string;
  readonly fileName: string | null;
  readonly hex: string;
}

async function readParts(bytes: Uint8Array, boundary: string, sizes: readonly number[]): Promise<Read[]> {
  const parts: { name: string; fileName: string | null; chunks: Uint8Array[] }[] = [];
  for await (const piece of multipart(inChunks(bytes, sizes), boundary))
    if (piece instanceof Uint8Array) parts.at(-1)!.chunks.push(Buffer.from(piece));
    else parts.push({ ...piece, chunks: [] });
  return parts.map(({ chunks, ...head }) => ({ ...head, hex: Buffer.concat(chunks).toString('hex') }));
}

async function written(form: FormData): Promise<{ bytes: Uint8Array; boundary: string }> {
  const request = new Request('http://localhost', { method: 'POST', body: form });
  return {
    bytes: new Uint8Array(await request.arrayBuffer()),
    boundary: boundaryOf(request.headers.get('content-type')!)!,
  };
}

it('reads what a browser’s own writer wrote, however it is cut into chunks', async () => {
  const name = fc
    .string({ unit: 'grapheme', minLength: 1, maxLength: 12 })
    .map((one) => one.replace(/[\0\r\n]/g, '_'));
  const content = fc.oneof(
    fc.uint8Array({ maxLength: 300 }),
    fc
      .constantFrom('\r\n', '\r\n--', '--', '\r\n\r\n', '-'.repeat(80))
      .map((one) => new TextEncoder().encode(one)),
  );
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.record({ name, fileName: fc.option(name), content }), { minLength: 1, maxLength: 5 }),
      fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1, maxLength: 4 }),
      async (parts, sizes) => {
        const form = new FormData();
        const expected: Read[] = [];
        for (const part of parts) {
          const text = Buffer.from(part.content)
            .toString('latin1')
            .replace(/[^\x20-\x7e]/g, '');
          if (part.fileName === null) form.append(part.name, text);
          else form.append(part.name, new File([new Uint8Array(part.content)], part.fileName));
          const hex =
            part.fileName === null
              ? Buffer.from(text).toString('hex')
              : Buffer.from(part.content).toString('hex');
          expected.push({
            name: part.name,
            fileName: part.fileName,
            hex,
          });
        }
        const { bytes, boundary } = await written(form);
        expect(await readParts(bytes, boundary, sizes)).toEqual(expected);
      },
    ),
    { numRuns: 150 },
  );
});

it('reads a name that holds a line separator of Unicode', async () => {
  const form = new FormData();
  form.append('a', new File([new Uint8Array([1])], 'ride\u2028one\u2029.gpx'));
  const { bytes, boundary } = await written(form);
  expect(await readParts(bytes, boundary, [7])).toEqual([
    { name: 'a', fileName: 'ride\u2028one\u2029.gpx', hex: '01' },
  ]);
});

// RFC 2046 5.1.1: what stands before the first line and after the last is passed over.
it('passes over what stands before and after the parts', async () => {
  const text =
    'before\r\n--b\r\nContent-Disposition: form-data; name="a"\r\n\r\n1\r\n--b--\r\nafter --b\r\n\r\n';
  for (const size of [1, 3, 1000])
    expect(await readParts(Buffer.from(text), 'b', [size])).toEqual([
      { name: 'a', fileName: null, hex: '31' },
    ]);
});

it.each([
  ['nothing', ''],
  ['no end', '--b\r\nContent-Disposition: form-data; name="a"\r\n\r\n1'],
  ['another line between the parts', '--c\r\nContent-Disposition: form-data; name="a"\r\n\r\n1\r\n--c--'],
  ['a part without a name', '--b\r\nContent-Type: text/plain\r\n\r\n1\r\n--b--'],
  ['a head without an end', `--b\r\n${'x'.repeat(20_000)}`],
])('refuses %s', async (_, text) => {
  for (const size of [1, 500])
    await expect(readParts(Buffer.from(text), 'b', [size])).rejects.toBeInstanceOf(Malformed);
});

it.each([
  ['multipart/form-data; boundary=abc', 'abc'],
  ['Multipart/Form-Data; charset=utf-8; boundary="a b"', 'a b'],
  ['multipart/mixed; boundary=abc', null],
  ['multipart/form-data', null],
  [undefined, null],
])('takes from %j the boundary %j', (type, boundary) => {
  expect(boundaryOf(type)).toBe(boundary);
});
