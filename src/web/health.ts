import { createHash, timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { type DoubtedClock, doubtText } from '../flow/clockDoubt.js';
import { isTurning } from '../flow/stillLoops.js';
import { getStoreHealth } from '../flow/storeHealth.js';
import type { LoopPulse } from '../ports/loops.js';
import { HOUR_MS, minutesIn, secondsIn } from '../units.js';
import { VERSION } from '../version.js';
import type { WebDeps } from './deps.js';
import type { Pages } from './routes.js';
import type { WebEnv } from './viewer.js';

/** A mail that waits for longer has a relay that is out of order; it is told, and the pages go on. */
const MAIL_LATE_S = secondsIn(4 * HOUR_MS);
const FAILING_AFTER = 3;

/** How the program is. Units: seconds. */
export interface Health {
  readonly version: string;
  /** Every loop of this process still turns. */
  readonly isAlive: boolean;
  /** Alive, and the store answers. */
  readonly isReady: boolean;
  readonly loops: readonly LoopPulse[];
  readonly sinceScanS: number | null;
  readonly mailsWaiting: number | null;
  readonly oldestMailWaitsS: number | null;
  /** The clock jumped, and nobody agreed to it yet; null where it is believed. */
  readonly doubt: DoubtedClock | null;
  /** What is wrong, in words. */
  readonly why: readonly string[];
}

/** Returns how the program is, asked now. */
export async function healthOf({ store, clock, vitals, log }: WebDeps): Promise<Health> {
  const now = clock.now();
  const loops = vitals?.loops() ?? [];
  const stored = await store
    .read((tx) => getStoreHealth(tx, clock))
    .catch((error: unknown) => {
      log.error({ error }, 'The store does not answer');
      return null;
    });
  const mails = stored?.mails ?? null;
  const oldestMailWaitsS = mails?.oldestSendAt == null ? null : secondsIn(now - mails.oldestSendAt);
  const isAlive = loops.every(isTurning);
  const doubt = stored?.doubt ?? null;
  const why = [
    ...(doubt === null ? [] : [doubtText(doubt)]),
    ...loops.filter((loop) => !isTurning(loop)).map(stillText),
    ...(mails === null ? ['The store does not answer.'] : []),
    ...(stored?.still ?? []).map(
      ({ loop, host, silentS }) =>
        `The loop "${loop}" of another process on ${host} stands still: nothing was heard of it for ${Math.ceil(minutesIn(silentS))} min.`,
    ),
    ...loops
      .filter(({ failedInARow }) => failedInARow >= FAILING_AFTER)
      .map(
        ({ name, failedInARow, why }) => `The loop "${name}" failed ${failedInARow} times in a row: ${why}`,
      ),
    ...(mails !== null && mails.tried > 0 ? [triedText(mails)] : []),
    ...(oldestMailWaitsS !== null && oldestMailWaitsS > MAIL_LATE_S ? ['A mail has waited for hours.'] : []),
  ];
  return {
    version: VERSION,
    isAlive,
    isReady: isAlive && mails !== null,
    loops,
    sinceScanS: vitals?.sinceScanS() ?? null,
    mailsWaiting: mails?.waiting ?? null,
    oldestMailWaitsS,
    doubt,
    why,
  };
}

/** Says what became of mails that were tried; what the relay itself said may name somebody, and stands with the mail. */
const triedText = ({ tried, answer }: { readonly tried: number; readonly answer: string | null }): string =>
  `Mails that were tried and wait to be tried again: ${tried}. ${answer?.split(':')[0] ?? ''}.`;

/** Says of a loop that does not turn what it does, if it said so, and for how long. */
const stillText = ({ name, runningS, doing }: LoopPulse): string =>
  runningS === null
    ? `The loop "${name}" stands still.`
    : `The loop "${name}" hangs: ${doing ?? 'busy'} for ${Math.round(runningS)} s.`;

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/**
 * Whether somebody may see figures: who shows the secret that is set for it, else who asks from this machine itself;
 * that only while nothing says that others are led here.
 */
export function maySeeFigures(
  c: Context<WebEnv>,
  { metricsSecret, publicUrl, trustedProxy }: WebDeps,
): boolean {
  if (metricsSecret === null) return publicUrl === null && trustedProxy.length === 0 && c.get('visit').isHere;
  const [, shown = ''] = /^Bearer +(\S+)$/i.exec(c.req.header('authorization') ?? '') ?? [];
  return timingSafeEqual(digest(shown), digest(metricsSecret));
}

/** Adds `/healthz` (does it live) and `/readyz` (can it work); figures go to those who may see them. */
export function healthPages(pages: Pages, deps: WebDeps): void {
  const page = (path: '/healthz' | '/readyz', isWell: (health: Health) => boolean): void => {
    pages.get(path, async (c) => {
      const health = await healthOf(deps);
      const ok = isWell(health);
      return c.json(maySeeFigures(c, deps) ? { ok, ...health } : { ok }, ok ? 200 : 503);
    });
  };
  page('/healthz', (health) => health.isAlive);
  page('/readyz', (health) => health.isReady);
}
