import type { Hono } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { Counter, collectDefaultMetrics, Gauge, Registry } from 'prom-client';
import { VERSION } from '../version.js';
import type { WebDeps } from './deps.js';
import { healthOf, maySeeFigures } from './health.js';
import type { Pages } from './routes.js';
import type { WebEnv } from './viewer.js';

/** Adds `/metrics` in the Prometheus text format, for those who may see it; no figure is about one person. */
export function metricsPage(app: Hono<WebEnv>, pages: Pages, deps: WebDeps): void {
  const registers: Registry[] = [];
  const gauge = (name: string, help: string, labelNames: string[] = []): Gauge =>
    new Gauge({ name: `stanchion_${name}`, help, labelNames, registers });
  const register = new Registry();
  registers.push(register);
  const responses = new Counter({
    name: 'stanchion_http_responses_total',
    help: 'Answers by the class of their status.',
    labelNames: ['class'],
    registers,
  });
  const sinceEnd = gauge('loop_since_end_seconds', 'Seconds since a step of the loop ended.', ['loop']);
  const running = gauge('loop_running_seconds', 'Seconds that the step under way has taken.', ['loop']);
  const failures = gauge('loop_failures_in_a_row', 'Steps of the loop that failed since one did not.', [
    'loop',
  ]);
  const ready = gauge('ready', '1 where loops turn and the store answers.');
  const sinceScan = gauge('scan_since_seconds', 'Seconds since the drop folder was scanned to its end.');
  const waiting = gauge('mails_waiting', 'Mails whose time has come and that were not handed over.');
  const oldest = gauge('mail_oldest_wait_seconds', 'How long the oldest of them has waited.');
  gauge('build_info', 'Always 1; which version runs.', ['version']).set({ version: VERSION }, 1);
  let isCollecting = false;

  app.use(async (c, next) => {
    await next();
    responses.inc({ class: `${Math.floor(c.res.status / 100)}xx` });
  });
  pages.get('/metrics', async (c) => {
    if (!maySeeFigures(c, deps)) throw new HTTPException(404);
    if (!isCollecting) collectDefaultMetrics({ register });
    isCollecting = true;
    const health = await healthOf(deps);
    for (const { name, sinceEndedS, runningS, failedInARow } of health.loops) {
      sinceEnd.set({ loop: name }, sinceEndedS ?? 0);
      running.set({ loop: name }, runningS ?? 0);
      failures.set({ loop: name }, failedInARow);
    }
    ready.set(health.isReady ? 1 : 0);
    sinceScan.set(health.sinceScanS ?? Number.NaN);
    waiting.set(health.mailsWaiting ?? Number.NaN);
    oldest.set(health.oldestMailWaitsS ?? 0);
    return c.body(await register.metrics(), 200, { 'content-type': register.contentType });
  });
}
