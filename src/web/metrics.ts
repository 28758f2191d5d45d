import type { Hono } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { Counter, collectDefaultMetrics, Gauge, Registry } from 'prom-client';
import { startOfDay } from '../core/days/calendar.js';
import { STATES } from '../core/tokens.js';
import { getFigures } from '../flow/figures.js';
import { REASONS } from '../flow/readiness.js';
import { MAIL_STATES } from '../ports/mails.js';
import { secondsIn } from '../units.js';
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
  const ready = gauge('ready', '1 where there is no reason why work could not be done.');
  const notReady = gauge('not_ready', '1 for each reason why work cannot be done.', ['reason']);
  const left = gauge('loops_left', 'Loops that other processes left standing.');
  const files = gauge('files_day', 'Files that came within a day, by what they were.', ['outcome']);
  const tray = gauge('rides_waiting', 'Rides in the tray.');
  const mails = gauge('mails', 'Mails by state.', ['state']);
  const units = gauge('units', 'Services of units by their state.', ['state']);
  const free = gauge('disk_free_bytes', 'Room on the disk of the data folder.');
  const size = gauge('store_bytes', 'Size of the store; not a number on a server.');
  const backup = gauge('backup_day_timestamp_seconds', 'Start, in UTC, of the day of the last backup.');
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
    for (const reason of REASONS)
      notReady.set({ reason }, health.reasons.some((one) => one.reason === reason) ? 1 : 0);
    left.set(health.left ?? Number.NaN);
    free.set(health.machine?.freeBytes ?? Number.NaN);
    size.set(health.machine?.storeBytes ?? Number.NaN);
    const last = health.machine?.backups?.last ?? null;
    backup.set(last === null ? Number.NaN : secondsIn(startOfDay(last, 'UTC')));
    // A store that does not answer is told above; the rest of the figures is of use then too.
    const figures =
      health.left === null ? null : await deps.store.read((tx) => getFigures(tx, deps.clock.now()));
    for (const outcome of ['ride', 'no-ride', 'set-aside'] as const)
      files.set({ outcome }, figures?.came[outcome] ?? (figures ? 0 : Number.NaN));
    tray.set(figures?.asking ?? Number.NaN);
    for (const state of MAIL_STATES) mails.set({ state }, figures?.mails.get(state) ?? Number.NaN);
    for (const state of STATES) units.set({ state }, figures?.units.get(state) ?? (figures ? 0 : Number.NaN));
    waiting.set(health.mailsWaiting ?? Number.NaN);
    oldest.set(health.oldestMailWaitsS ?? 0);
    return c.body(await register.metrics(), 200, { 'content-type': register.contentType });
  });
}
