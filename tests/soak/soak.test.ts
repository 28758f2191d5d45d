/**
 * Everything that did harm at once, for a minute (`npm run soak` for ten), while a rider, a workshop and a relay are at
 * work: memory stays under the shipped limit, nobody waits long, nothing is lost, and it ends within five seconds.
 */
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, it, onTestFinished } from 'vitest';
import { expectSound, makeLedger, serveIn } from '../faults/serving.js';
import { runProgram, scratchFolder } from '../fixtures/program.js';
import {
  BEFORE_S,
  document,
  filesOf,
  layRide,
  layTrouble,
  oldOriginal,
  prepare,
  residentMb,
  rideS,
  SECRET,
  startReplacing,
  startSoakRelay,
} from './soakWorld.js';
import { startStrangers } from './strangers.js';

const SECONDS = Number(process.env.STANCHION_SOAK_S ?? 60);
/** Years ahead, for nine seconds from the start on. */
const JUMP_MS = 3 * 365 * 86_400_000;
const JUMP_S = 9;
const SHIM = pathToFileURL(resolve(import.meta.dirname, '../faults/jumpingClock.mjs')).href;
/** Of the shipped limit of 1 GB. */
const MOST_MB = 900;
/** A busy machine with two cores: what is held here is that nobody waits for another's trouble. Units: milliseconds. */
const LONGEST_PAGE_MS = 5000;
const LONGEST_RIDE_MS = 60_000;
const LONGEST_STOP_MAIL_MS = 30_000;
const LONGEST_END_MS = 5000;

const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));
const middle = (all: readonly number[], share: number): number =>
  [...all].sort((a, b) => a - b)[Math.min(all.length - 1, Math.floor(all.length * share))] ?? 0;

it(
  'all that did harm at once: memory under the shipped limit, nobody waits long, and nothing is lost',
  async () => {
    const data = scratchFolder();
    makeLedger(data, document());
    const form = await prepare(data);
    const relay = await startSoakRelay();
    onTestFinished(() => relay.close());
    layTrouble(data);
    const jump = join(scratchFolder(), 'jump');
    writeFileSync(jump, String(JUMP_MS));
    const serving = await serveIn(data, {
      ...{ NODE_OPTIONS: `--import ${SHIM}`, JUMP_FILE: jump },
      ...{ STANCHION_SECRET: SECRET, STANCHION_SMTP_URL: relay.url },
    });
    const began = performance.now();
    const since = (): number => performance.now() - began;
    const stopReplacing = startReplacing(data);
    onTestFinished(stopReplacing);

    let mostMb = 0;
    const watch = setInterval(() => {
      mostMb = Math.max(mostMb, residentMb(serving.child.pid!));
    }, 100);
    onTestFinished(() => clearInterval(watch));

    const doubted = (await (await serving.get('/readyz')).json()) as { why: string[] };
    expect(doubted.why.join(' ')).toContain('clock of this machine jumped ahead');
    await pause(JUMP_S * 1000);
    writeFileSync(jump, '0');

    const sendAway = startStrangers(serving.url);
    const pages: number[] = [];
    const waits: number[] = [];
    const laidAt: number[] = [];
    let marked: number | null = null;
    const ask = async (path: string, more: RequestInit = {}): Promise<number> => {
      const headers = { cookie: form.cookie, origin: serving.url, connection: 'close' };
      const answer = await fetch(serving.url + path, { redirect: 'manual', headers, ...more }).catch(
        (cause: unknown) => {
          const { exitCode, signalCode } = serving.child;
          const said = serving.log().slice(-2000);
          throw new Error(`${path} was not answered; ended: ${exitCode ?? signalCode}; ${said}`, { cause });
        },
      );
      await answer.text();
      return answer.status;
    };
    const get = async (path: string): Promise<void> => {
      const from = performance.now();
      expect([path, await ask(path)]).toEqual([path, 200]);
      pages.push(performance.now() - from);
    };
    const count = (): void => {
      const taken = filesOf(data, 'r1').filter(({ outcome }) => outcome === 'counted').length;
      while (waits.length < taken) waits.push(performance.now() - laidAt[waits.length]!);
    };
    const findStopMail = () => relay.taken.find(({ to, at }) => to === 'r1@example.org' && at > marked!);
    for (let round = 0; since() < SECONDS * 1000; round += 1) {
      if (round % 4 === 0) {
        laidAt.push(performance.now());
        layRide(data, laidAt.length);
      }
      await get(round % 2 === 0 ? '/' : '/due');
      if (round === 8) {
        const body = new URLSearchParams({ token: form.token, why: 'crashed' });
        expect(await ask('/units/F-1/mark', { method: 'POST', body })).toBe(303);
        marked = performance.now();
      }
      count();
      await pause(500);
    }
    for (const until = performance.now() + LONGEST_RIDE_MS; waits.length < laidAt.length; count()) {
      if (performance.now() > until)
        expect(filesOf(data, 'r1').filter(({ outcome }) => outcome !== 'counted')).toEqual([]);
      expect(performance.now()).toBeLessThan(until);
      await pause(250);
    }
    for (const until = marked! + LONGEST_STOP_MAIL_MS; findStopMail() === undefined; await pause(250))
      expect(performance.now()).toBeLessThan(until);
    stopReplacing();
    const strangers = await sendAway();
    const copies = readdirSync(join(data, 'originals'), { recursive: true, withFileTypes: true }).filter(
      (one) => one.isFile(),
    );
    const stopMail = findStopMail();
    const figures = {
      ...{ seconds: SECONDS, mostMb: Math.round(mostMb), rides: waits.length, mails: relay.taken.length },
      pageMs: [0.5, 0.95, 1].map((share) => Math.round(middle(pages, share))),
      rideMs: [0.5, 0.95, 1].map((share) => Math.round(middle(waits, share))),
      stopMailMs: stopMail && Math.round(stopMail.at - marked!),
      ...{ copies: copies.length, strangers },
    };
    process.stdout.write(`${JSON.stringify(figures)}\n`);

    const endedFrom = performance.now();
    expect(await serving.stop()).toBe(0);
    const endMs = performance.now() - endedFrom;
    expect(mostMb).toBeLessThan(MOST_MB);
    expect(middle(pages, 1)).toBeLessThan(LONGEST_PAGE_MS);
    expect(middle(waits, 1)).toBeLessThan(LONGEST_RIDE_MS);
    expect(figures.stopMailMs).toBeLessThan(LONGEST_STOP_MAIL_MS);
    expect(endMs).toBeLessThan(LONGEST_END_MS);
    expect(existsSync(oldOriginal(data))).toBe(true);
    // Of the file that was replaced 20 times a second a handful was kept, beside the rides and what was sent as trouble.
    expect(copies.length).toBeLessThan(laidAt.length + 60);
    expect(new Set(relay.taken.map(({ messageId }) => messageId)).size).toBe(relay.taken.length);
    expectSound(data);
    const due = runProgram(['due', '--json', '--data', data]).rows;
    const ridden = due.find(({ unit, serviceKind }) => unit === 'F-1' && serviceKind === 'lower-leg');
    const laidS = laidAt.reduce((sum, _, i) => sum + rideS(i + 1), 0);
    expect(Math.round((ridden?.movingHoursSince as number) * 3600)).toBe(BEFORE_S + laidS);
  },
  (SECONDS + 240) * 1000,
);
