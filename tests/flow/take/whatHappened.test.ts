/** The text in a rider's folder speaks the rider's language, whatever lay there. */
import { expect, test } from 'vitest';
import { gpxText } from '../../fixtures/gpxFile.js';
import { zipFile } from '../../fixtures/zipFile.js';
import { DOCUMENT } from '../flowWorld.js';
import { FolderWorld } from './folderWorld.js';

const noTimes = gpxText([{ segments: [[{ lat: 1, lon: 2 }]] }]);
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

const put = async (language: string): Promise<string> => {
  const riders = [{ ...DOCUMENT.riders[0]!, language }];
  const folder = await FolderWorld.open({ ...DOCUMENT, riders });
  folder.put('r1/b1/notes.txt', 'no ride at all');
  folder.put(
    'r1/b1/all.zip',
    zipFile([
      { name: 'a.gpx', bytes: bytes(noTimes) },
      { name: 'b.txt', bytes: bytes('nothing') },
    ]),
  );
  await folder.scan();
  const before = folder.told();
  // It is no format that says when it is whole, so it has to stand still.
  folder.world.now = '2025-06-18T12:06:00Z';
  await folder.scan();
  return `${before}${folder.told()}`;
};

test('a rider who speaks Portuguese reads nothing in English', async () => {
  const told = await put('pt');
  expect(told).toMatch(/^O que se fez dos ficheiros desta pasta\./);
  expect(told).toContain('notes.txt: parece que ainda está a ser copiado; volta a ver-se em breve');
  expect(told).toContain('notes.txt: posto de lado. Não é FIT nem GPX. Exporte a volta num dos dois.');
  expect(told).toMatch(/all\.zip: .*1 posto de lado/);
  expect(told).not.toMatch(/\b(the|not|file|ride|set aside|waiting)\b/i);
});

test('one who speaks English reads the same in English, with the reason as exact as it is known', async () => {
  const told = await put('en');
  expect(told).toMatch(/^What happened to the files in this folder\./);
  expect(told).toMatch(/notes\.txt: set aside\. .+/);
  expect(told).toMatch(/all\.zip: .*1 set aside/);
});
