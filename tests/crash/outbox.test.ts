/** Marking before sending loses mails, sending before marking repeats some: the outbox is held to the second. */
import { expect, it } from 'vitest';
import { killOutbox } from './killOutbox.js';

const ASKED = process.env.STANCHION_KILLS;
const KILLS = ASKED === undefined ? 6 : Number(ASKED);
const SEED = Number(process.env.STANCHION_SEED ?? 1);
const PATIENCE_MS = 60_000 + KILLS * 30_000;

it(
  'killed at random moments, it loses no notice and repeats only mails whose answer was lost, as they were',
  async () => {
    const figures = await killOutbox(KILLS, SEED, (soFar) => {
      if (ASKED !== undefined) process.stdout.write(`seed ${SEED}: ${JSON.stringify(soFar)}\n`);
    });
    expect(figures.faults).toEqual([]);
    expect(figures).toMatchObject({ lost: 0, repeated: figures.answerLost });
    expect(figures.kills).toBe(KILLS);
    // Kills that never met a mail on its way would prove nothing.
    expect(figures.beforeSending).toBeLessThan(KILLS);
    expect(figures.mails).toBeGreaterThan(KILLS / 4);
  },
  PATIENCE_MS,
);
