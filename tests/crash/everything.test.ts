/** Files, facts, notices, mails, backups and the making of the database itself, each cut off at random moments. */
import { expect, it } from 'vitest';
import { AIMS, killEverything } from './killEverything.js';

const ASKED = process.env.STANCHION_KILLS;
const KILLS = ASKED === undefined ? 10 : Number(ASKED);
const SEED = Number(process.env.STANCHION_SEED ?? 1);
const PATIENCE_MS = 120_000 + KILLS * 30_000;

it(
  'killed at random moments of all that it does, every file, fact, notice, mail and backup is there once',
  async () => {
    const told = ASKED !== undefined;
    const figures = await killEverything(KILLS, SEED, (sum) => {
      if (told) process.stdout.write(`seed ${SEED}: ${JSON.stringify(sum)}\n`);
    });
    expect(figures.faults).toEqual([]);
    expect(figures.kills).toBe(KILLS);
    // Kills that meet nothing under way would prove nothing.
    for (const aim of new Set(AIMS)) expect([aim, figures.met[aim]]).not.toEqual([aim, 0]);
  },
  PATIENCE_MS,
);
