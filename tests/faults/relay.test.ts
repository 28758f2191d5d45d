/** A relay that never ends its answer about one mail: what bears on safety does not wait for it. */
import { expect, it, onTestFinished } from 'vitest';
import { eventually, runProgram, scratchFolder } from '../fixtures/program.js';
import { document, startSoakRelay } from '../soak/soakWorld.js';
import { expectSound, makeLedger, serveIn } from './serving.js';

/** A third of the time that a stuck mail is given. */
const LONGEST_MS = 20_000;

it('stuck with a reminder: a mail to stop riding goes beside it', async () => {
  const data = scratchFolder();
  makeLedger(data, document());
  const relay = await startSoakRelay();
  onTestFinished(() => relay.close());
  const serving = await serveIn(data, { STANCHION_SMTP_URL: relay.url });
  await eventually(() => (relay.countStuck() > 0 ? true : null));
  const marked = performance.now();
  expect(runProgram(['mark', 'F-1', 'stop', '--why', 'crashed', '--data', data]).status).toBe(0);
  const mail = await eventually(() => relay.taken.find(({ to }) => to === 'r1@example.org') ?? null);
  expect(relay.countStuck()).toBe(1);
  expect(mail.at - marked).toBeLessThan(LONGEST_MS);
  console.info(`handed over ${Math.round((mail.at - marked) / 100) / 10} s after the mark`);
  expect(await serving.stop()).toBe(0);
  expectSound(data);
}, 120_000);
