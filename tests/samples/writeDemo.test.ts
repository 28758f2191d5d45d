import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { makeScenario } from '../../samples/scenario.js';
import { writeDemo } from '../../samples/writeDemo.js';

const dir = mkdtempSync(join(tmpdir(), 'demo-'));
afterAll(() => rmSync(dir, { recursive: true }));

it('writes the document and every file where the drop folder looks for it', () => {
  const told = makeScenario('2025-06-20');
  const written = writeDemo(dir, '2025-06-20');
  expect(JSON.parse(readFileSync(written.setupFile, 'utf8'))).toEqual(told.document);
  expect(written.actions).toEqual(told.actions);
  const files = readdirSync(join(dir, 'inbox'), { recursive: true, withFileTypes: true }).filter((e) =>
    e.isFile(),
  );
  expect(files).toHaveLength(told.rides.length);
  expect(written.files).toBe(told.rides.length);
  for (const ride of told.rides) {
    expect(Buffer.compare(readFileSync(join(dir, ride.path)), ride.bytes()), ride.path).toBe(0);
    expect(statSync(join(dir, ride.path)).mtimeMs).toBe(Date.parse('2025-06-19T20:00:00Z'));
  }
});
