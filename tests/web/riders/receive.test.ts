/** What is sent lies on disk while it is looked at, whole, and nothing of it stays there, whatever becomes of it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Hono } from 'hono';
import { expect, it } from 'vitest';
import { partsIn } from '../../../src/inbox/parts.js';
import { receiving } from '../../../src/web/door/receive.js';
import { scratchFolder } from '../../fixtures/program.js';

const filesOf = (...contents: readonly string[]): FormData => {
  const form = new FormData();
  for (const [i, content] of contents.entries()) form.append('files', new File([content], `${i}.gpx`));
  form.append('bike', 'b1');
  return form;
};

async function sent(
  body: RequestInit['body'],
  { room = 1000, mayCome = 1000, headers = {} } = {},
): Promise<unknown> {
  const folder = join(scratchFolder(), 'parts');
  let came = 0;
  const into = {
    parts: partsIn(folder, room),
    mostFiles: 100,
    mostMb: 64,
    mayCome: (bytes: number) => {
      came += bytes;
      return came <= mayCome;
    },
  };
  const app = new Hono();
  app.post('/', async (c) =>
    c.json(
      await receiving(c, into, async ({ files, fields }) => ({
        files: files.map(({ name, part }) => [name, readFileSync(part.path, 'utf8')]),
        fields,
      })),
    ),
  );
  const request = { method: 'POST', body, headers, duplex: 'half' } as RequestInit;
  const response = await app.request(new Request('http://localhost/', request));
  expect(
    readdirSync(scratchFolderOf(folder), { recursive: true }).filter((name) => name !== 'parts'),
  ).toEqual([]);
  return response.status === 200 ? response.json() : response.status;
}

const scratchFolderOf = (folder: string): string => join(folder, '..');

it('hands on each file with its name and bytes, and the fields, in whatever order', async () => {
  const form = filesOf('one', 'two', '');
  form.append('note', 'a note');
  expect(await sent(form)).toEqual({
    files: [
      ['0.gpx', 'one'],
      ['1.gpx', 'two'],
      ['2.gpx', ''],
    ],
    fields: { bike: 'b1', note: 'a note' },
  });
  // A browser sends a field for files that none was chosen in.
  const none = '--b\r\nContent-Disposition: form-data; name="files"; filename=""\r\n\r\n\r\n--b--\r\n';
  const headers = { 'content-type': 'multipart/form-data; boundary=b' };
  expect(await sent(none, { headers })).toEqual({ files: [], fields: {} });
});

it('takes nothing of what is too many, too much, without room, or not whole', async () => {
  expect(await sent(filesOf(...new Array<string>(101).fill('a')))).toBe('tooMany');
  expect(await sent(filesOf('one', 'two'), { mayCome: 5 })).toBe('tooMuch');
  expect(await sent(filesOf('one', 'two'), { room: 5 })).toBe('noRoom');
  expect(await sent(new URLSearchParams({ files: 'one' }))).toBe('notWhole');
  const cut = '--b\r\nContent-Disposition: form-data; name="files"; filename="a"\r\n\r\nabc';
  expect(await sent(cut, { headers: { 'content-type': 'multipart/form-data; boundary=b' } })).toBe(
    'notWhole',
  );
  const long = new FormData();
  long.append('bike', 'x'.repeat(1001));
  expect(await sent(long)).toBe('notWhole');
});

it('leaves nothing of what breaks off in the middle', async () => {
  const head = '--b\r\nContent-Disposition: form-data; name="files"; filename="a"\r\n\r\n';
  let isFirst = true;
  const body = new ReadableStream({
    pull: (to) => {
      if (isFirst) to.enqueue(new TextEncoder().encode(head + 'x'.repeat(500)));
      else to.error(new Error('the phone is in a tunnel'));
      isFirst = false;
    },
  });
  expect(await sent(body, { headers: { 'content-type': 'multipart/form-data; boundary=b' } })).toBe(400);
});
