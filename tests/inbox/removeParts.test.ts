import { existsSync, mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { removeParts } from '../../src/inbox/removeParts.js';
import { scratchFolder } from '../fixtures/program.js';

it('removes what lay half written for hours, and neither what is being written nor anything whole', async () => {
  const folder = scratchFolder();
  mkdirSync(join(folder, 'ab'));
  const lay = (name: string, hoursOld: number): void => {
    const path = join(folder, 'ab', name);
    writeFileSync(path, 'x');
    const at = new Date(Date.now() - hoursOld * 3_600_000);
    utimesSync(path, at, at);
  };
  lay('.abcd.0a1b2c3d.part', 2);
  lay('.mail.eml.part', 30);
  lay('.abcd.11111111.part', 0);
  lay('abcd', 30);
  lay('a ride.part', 30);
  await removeParts(folder);
  expect(readdirSync(join(folder, 'ab')).sort()).toEqual(['.abcd.11111111.part', 'a ride.part', 'abcd']);
});

it('a folder that is not there holds nothing', async () => {
  const folder = join(scratchFolder(), 'none');
  await removeParts(folder);
  expect(existsSync(folder)).toBe(false);
});
