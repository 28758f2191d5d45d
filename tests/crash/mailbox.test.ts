/** Rides that come by mail, taken and answered by a program that is killed at random moments. */
import { expect, it } from 'vitest';
import { hasMailServer, NO_MAIL_SERVER } from '../fixtures/mailServer.js';
import { killMailbox } from './killMailbox.js';

const ASKED = process.env.STANCHION_KILLS;
const KILLS = ASKED === undefined ? 4 : Number(ASKED);
const SEED = Number(process.env.STANCHION_SEED ?? 1);
const PATIENCE_MS = 120_000 + KILLS * 30_000;

it.runIf(hasMailServer)(
  `killed at random moments, it loses no ride that was mailed, counts none twice and answers each once${NO_MAIL_SERVER}`,
  async () => {
    const figures = await killMailbox(KILLS, SEED, (life) => {
      if (ASKED !== undefined && life % 10 === 0) process.stdout.write(`seed ${SEED}: ${life} kills\n`);
    });
    if (ASKED !== undefined) process.stdout.write(`${JSON.stringify(figures)}\n`);
    expect(figures.faults).toEqual([]);
    expect(figures.rides).toBeGreaterThan(KILLS / 2);
    expect(figures.answers).toBeGreaterThan(0);
  },
  PATIENCE_MS,
);
