import { createHash, timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { HERE, HERE_HEADER, hereText } from '../core/links.js';
import type { DoubtedClock } from '../flow/clockDoubt.js';
import { findReasons, type Reason } from '../flow/readiness.js';
import { isTurning } from '../flow/stillLoops.js';
import type { LoopPulse, MachineState } from '../ports/loops.js';
import { isoTime, secondsIn } from '../units.js';
import { VERSION } from '../version.js';
import type { WebDeps } from './deps.js';
import type { Pages } from './routes.js';
import type { WebEnv } from './viewer.js';

/** Why it is not ready, since when, and what to do. */
interface ToldReason extends Pick<Reason, 'reason' | 'message' | 'hint'> {
  readonly since: string;
}

/** How the program is. Units: seconds. */
export interface Health {
  readonly version: string;
  /** Every loop of this process still turns, and its decoder answers: what a start anew would mend. */
  readonly isAlive: boolean;
  /** There is no reason why work could not be done. */
  readonly isReady: boolean;
  readonly reasons: readonly ToldReason[];
  readonly loops: readonly LoopPulse[];
  readonly sinceScanS: number | null;
  readonly mailsWaiting: number | null;
  readonly oldestMailWaitsS: number | null;
  readonly machine: MachineState | null;
  /** Loops that other processes left standing. */
  readonly left: number | null;
  /** The clock jumped, and nobody agreed to it yet; null where it is believed. */
  readonly doubt: DoubtedClock | null;
  /** What is wrong, in words. */
  readonly why: readonly string[];
}

/** Returns how the program is, asked now. */
export async function healthOf(deps: WebDeps): Promise<Health> {
  const loops = deps.vitals?.loops() ?? [];
  const { stored, machine, reasons } = await findReasons(deps);
  const mails = stored?.mails ?? null;
  const red = reasons.filter(({ isRed }) => isRed);
  return {
    version: VERSION,
    isAlive: loops.every(isTurning) && !red.some(({ reason }) => reason === 'decoder'),
    isReady: red.length === 0,
    reasons: red.map(({ reason, since, message, hint }) => ({
      reason,
      since: isoTime(since),
      message,
      hint,
    })),
    loops,
    sinceScanS: deps.vitals?.sinceScanS() ?? null,
    mailsWaiting: mails?.waiting ?? null,
    oldestMailWaitsS: mails?.oldestSendAt == null ? null : secondsIn(deps.clock.now() - mails.oldestSendAt),
    machine,
    left: stored?.still.length ?? null,
    doubt: stored?.doubt ?? null,
    why: reasons.map(({ message }) => message),
  };
}

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

/**
 * Adds `/healthz` (does it live) and `/readyz` (can it work); figures go to those who may see them. Whoever holds the secret
 * is told, by a mark on what they ask with, whether an address leads to the program of that secret.
 */
export function healthPages(pages: Pages, deps: WebDeps): void {
  const page = (path: '/healthz' | '/readyz', isWell: (health: Health) => boolean): void => {
    pages.get(path, async (c) => {
      const asked = c.req.query('here') ?? '';
      if (deps.rider && HERE.test(asked)) c.header(HERE_HEADER, deps.rider.seal.mark(hereText(asked)));
      const health = await healthOf(deps);
      const ok = isWell(health);
      return c.json(maySeeFigures(c, deps) ? { ok, ...health } : { ok }, ok ? 200 : 503);
    });
  };
  page('/healthz', (health) => health.isAlive);
  page('/readyz', (health) => health.isReady);
}
