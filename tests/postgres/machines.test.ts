/** `STANCHION_MACHINE_KILLS` asks for more kills than the suite has time for. */
import { expect, it } from 'vitest';
import { newPlace } from '../fixtures/storePlace.js';
import { killMachines } from './killMachines.js';

const ASKED = process.env.STANCHION_MACHINE_KILLS;
const KILLS = ASKED === undefined ? 5 : Number(ASKED);
const SEED = Number(process.env.STANCHION_SEED ?? 1);

it(
  'two machines on one server, killed at random moments, count every ride once and tell every rider once',
  async () => {
    const figures = await killMachines(await newPlace(), KILLS, SEED);
    if (ASKED !== undefined) process.stdout.write(`seed ${SEED}: ${JSON.stringify(figures)}\n`);
    expect(figures.faults).toEqual([]);
    expect(figures.kills).toBe(KILLS);
    // Kills that meet nothing under way would prove nothing.
    expect(figures.met.files).toBeGreaterThan(0);
    if (KILLS >= 100) expect(figures.met.mails).toBeGreaterThan(0);
    // Each kill can have cut off one answer.
    expect(figures.repeated).toBeLessThanOrEqual(KILLS);
  },
  300_000 + KILLS * 10_000,
);
