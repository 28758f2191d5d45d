/** Every question that the tray can ask is asked in plain words, and each of its offered answers settles it. */
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { pageTextsFor } from '../../src/languages/index.js';
import { day, instant } from '../../src/units.js';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';
import { lastingPlace } from '../fixtures/storePlace.js';
import { takeDemo } from '../samples/takeDemo.js';

const NOW = '2026-06-10T09:00:00Z';

interface Row {
  readonly id: string;
  readonly code: string;
  readonly question: string;
  readonly answers: readonly { readonly option: string; readonly means: string }[];
}

let demo: string;
beforeAll(async () => {
  demo = await lastingPlace();
  await takeDemo(demo, day('2026-06-10'), instant(Date.parse(NOW)));
}, 240_000);

function copyOfDemo(): string {
  const folder = scratchFolder();
  copyFileSync(demo, join(folder, 'stanchion.db'));
  return folder;
}

const trayOf = async (folder: string): Promise<Row[]> =>
  (await runHere(['tray', '--json', '--data', folder, '--now', NOW])).rows as unknown as Row[];

/** An offered answer with its blanks filled in. */
const filled = (option: string): string[] =>
  option
    .replace('TIME', '2026-05-20T08:00:00Z')
    .replace(/\bN\b/, '60')
    .replace('RIDER', 'r1')
    .replace('BIKE', 'b1')
    .split(' ');

/** It asks when a later reader no longer finds a ride, which no file of a new ledger brings about. */
const ASKED = Object.keys(pageTextsFor('en').tray.question).filter((code) => code !== 'not-in-file');

describe('the tray', () => {
  it('of the demo asks every question there is, in a sentence that ends in a question mark', async () => {
    const rows = await trayOf(copyOfDemo());
    expect([...new Set(rows.map((row) => row.code))].sort()).toEqual([...ASKED].sort());
    for (const { question, answers } of rows) {
      expect(question).toMatch(/^[A-Z].*\?$|^[A-Z].*\. [A-Z].*\?/);
      expect(answers.length).toBeGreaterThan(1);
      for (const { means } of answers) expect(means).toMatch(/^[a-z]/);
    }
  });

  it.each(ASKED)('takes each answer that it offers to %s', async (code) => {
    const rows = (await trayOf(copyOfDemo())).filter((row) => row.code === code);
    const { id, answers } = rows[0]!;
    for (const { option } of answers) {
      const folder = copyOfDemo();
      const before = (await trayOf(folder)).length;
      const { status, stderr } = await runHere([
        'tray',
        id,
        ...filled(option),
        '--data',
        folder,
        '--now',
        NOW,
      ]);
      expect([status, stderr], option).toEqual([0, '']);
      const after = await trayOf(folder);
      expect(
        after.filter((row) => row.id === id && row.code === code),
        option,
      ).toEqual([]);
      expect(after.length, option).toBeLessThanOrEqual(before);
    }
  });
});
