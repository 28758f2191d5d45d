/**
 * What every file of the folder of recordings says, to the last digit, as digests: a change that should only be faster
 * changes none of them. Where figures are meant to change, and the reader's version is raised, they are taken anew:
 * `npx vitest run tests/real/digests -u`.
 */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { expect } from 'vitest';
import { READER_VERSION } from '../../src/core/ground/samples/reading.js';
import { readContent } from '../../src/files/readFile.js';
import { decodeFile } from '../../src/flow/take/decodeFile.js';
import type { FileContent } from '../../src/ports/reader.js';
import { instant } from '../../src/units.js';
import { itWithRecordings, manifestEntries, recordingBytes } from '../fixtures/recordings.js';

const NOW = instant(Date.UTC(2026, 10, 1));

/** As text, with columns of numbers whole and every zero, sign and missing value told apart. */
const textOf = (value: unknown): string =>
  JSON.stringify(value, (_, one: unknown) => {
    if (one instanceof Float64Array)
      return Buffer.from(one.buffer, one.byteOffset, one.byteLength).toString('base64');
    if (typeof one === 'number' && !Number.isFinite(one)) return String(one);
    return one;
  });

const digestOf = (value: unknown): string =>
  createHash('sha256').update(textOf(value)).digest('hex').slice(0, 20);

itWithRecordings('no figure of a recording changes unnoticed', async () => {
  const lines = manifestEntries().map(({ file }) => {
    let content: FileContent | null = null;
    const read = (bytes: Uint8Array, source: string): FileContent => {
      content = readContent(bytes, source);
      return content;
    };
    const decoded = decodeFile(read, { bytes: recordingBytes(file), name: file }, NOW);
    const readings = decoded.readings.map((one) => ({ ...one, profile: JSON.parse(one.profile) }));
    return `${file} ${digestOf(content)} ${digestOf({ ...decoded, readings })}`;
  });
  expect(lines.length).toBeGreaterThan(80);
  const text = `reader's version ${READER_VERSION}: each file, what is decoded, what is read\n${lines.join('\n')}\n`;
  await expect(text).toMatchFileSnapshot(join(import.meta.dirname, 'digests.txt'));
});
