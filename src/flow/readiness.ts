import { addDays, dayOf } from '../core/days/calendar.js';
import type { Clock } from '../ports/clock.js';
import type { Log } from '../ports/log.js';
import type { LoopPulse, MachineState, Vitals } from '../ports/loops.js';
import type { Store } from '../ports/store.js';
import { DAY_MS, HOUR_MS, type Instant, instant, MINUTE_MS, minutesIn, msOf, secondsIn } from '../units.js';
import { doubtText } from './clockDoubt.js';
import { isTurning } from './stillLoops.js';
import { getStoreHealth, type StoreHealth } from './storeHealth.js';

/** Why the program cannot do its work. */
export const REASONS = [
  ...[
    'store',
    'migrations',
    'disk',
    'folder',
    'ingest',
    'decoder',
    'mailbox',
    'relay',
    'backup',
    'clock',
    'loop',
  ],
] as const satisfies readonly string[];
export type ReasonName = (typeof REASONS)[number];

/** Something that is wrong, since when, and what to do. */
export interface Reason {
  readonly reason: ReasonName;
  /** False for what is told and mends itself, or is another process's. */
  readonly isRed: boolean;
  readonly since: Instant;
  readonly message: string;
  readonly hint: string;
}

/** What is asked of a process: its lanes and its machine are left out where there are none. */
export interface ReadinessDeps {
  readonly store: Store;
  readonly clock: Clock;
  readonly log: Log;
  readonly vitals?: Vitals;
  readonly machine?: () => Promise<MachineState>;
}

export interface Readiness {
  readonly stored: StoreHealth | null;
  readonly machine: MachineState | null;
  /** In the order of `REASONS`. */
  readonly reasons: readonly Reason[];
}

/** A step that failed so often in a row does not mend itself. */
const FAILING_AFTER = 3;
/** A relay may put a mail off for some minutes; one that was never tried for hours has nobody who tries. */
const RELAY_LATE_MS = 15 * MINUTE_MS;
const MAIL_LATE_MS = 4 * HOUR_MS;
const INGEST_LATE_MS = HOUR_MS;
/** One backup may be missed: the machine was off. */
const BACKUP_LATE_DAYS = 2;
const BACKUP_LATE_S = secondsIn(BACKUP_LATE_DAYS * DAY_MS);
/** A file is given up long before. */
const DECODER_LATE_S = secondsIn(3 * MINUTE_MS);

/** A season's files and a copy of the ledger want room. Units: bytes. */
const LEAST_FREE = 500_000_000;
const LEAST_PART = 0.02;

/** Whether so little is left on a disk that soon nothing more is kept. Units: bytes. */
export const isShort = ({ freeBytes, diskBytes }: Pick<MachineState, 'freeBytes' | 'diskBytes'>): boolean =>
  freeBytes < Math.min(LEAST_FREE, diskBytes * LEAST_PART);

type Wrong = Omit<Reason, 'since' | 'isRed'> & {
  readonly since?: Instant | null;
  readonly isRed?: boolean;
};

/** When each reason was seen first, for as long as it holds: of most of them nothing else tells since when. */
const seenFirst = new WeakMap<Store, Map<string, Instant>>();

/** Returns what is wrong now. */
export async function findReasons(deps: ReadinessDeps): Promise<Readiness> {
  const now = deps.clock.now();
  const stored = await deps.store
    .read((tx) => getStoreHealth(tx, deps.clock))
    .catch((error: unknown) => {
      deps.log.error({ error }, 'The store does not answer');
      return null;
    });
  const machine = (await deps.machine?.()) ?? null;
  const { vitals } = deps;
  const found = [
    ...storeReasons(stored),
    ...(machine === null ? [] : machineReasons(machine, deps.clock)),
    ...(stored === null ? [] : mailReasons(stored, now)),
    ...(stored === null ? [] : folderReasons(stored, vitals, now)),
    ...loopReasons(vitals?.loops() ?? [], stored, now),
  ].sort((a, b) => REASONS.indexOf(a.reason) - REASONS.indexOf(b.reason));
  return { stored, machine, reasons: withSince(deps.store, found, now) };
}

function withSince(store: Store, found: readonly Wrong[], now: Instant): Reason[] {
  const before = seenFirst.get(store) ?? new Map<string, Instant>();
  const after = new Map<string, Instant>();
  const reasons = found.map((one): Reason => {
    const key = `${one.reason} ${one.hint}`;
    const since = one.since ?? before.get(key) ?? now;
    after.set(key, since);
    return { ...one, isRed: one.isRed ?? true, since };
  });
  seenFirst.set(store, after);
  return reasons;
}

function storeReasons(stored: StoreHealth | null): Wrong[] {
  if (stored === null)
    return [
      {
        reason: 'store',
        message: 'The store does not answer.',
        hint: 'See the log for its cause, and stanchion doctor.',
      },
    ];
  const { doubt } = stored;
  return [
    ...(stored.isNewer
      ? [
          {
            reason: 'migrations' as const,
            message: 'A newer program has changed the tables.',
            hint: 'Update this program and restart it.',
          },
        ]
      : []),
    ...(doubt === null
      ? []
      : [
          {
            reason: 'clock' as const,
            since: doubt.lastAt,
            message: doubtText(doubt),
            hint: 'Set the clock of the machine; or, where it is right: stanchion clock --agree',
          },
        ]),
  ];
}

function machineReasons(machine: MachineState, clock: Clock): Wrong[] {
  const { freeBytes, decoder, backups, ranS } = machine;
  const found: Wrong[] = [];
  if (isShort(machine))
    found.push({
      reason: 'disk',
      message: `${Math.floor(freeBytes / 1e6)} MB are left on the disk of the data folder.`,
      hint: 'Make room on it. What cannot be kept now is taken once there is room.',
    });
  if ((decoder.inHandS ?? 0) > DECODER_LATE_S || decoder.brokeInARow >= FAILING_AFTER)
    found.push({
      reason: 'decoder',
      message:
        decoder.brokeInARow >= FAILING_AFTER
          ? `Reading broke on the last ${decoder.brokeInARow} files.`
          : `A file has been read for ${Math.round(decoder.inHandS!)} s.`,
      hint: 'Restart the program. If that does not help, check that it is installed completely.',
    });
  // A clock that was set for a demo says nothing of the days of files.
  if (backups !== null && clock.isSet !== true) {
    const oldest = addDays(dayOf(clock.now(), 'UTC'), -BACKUP_LATE_DAYS);
    const isLate = backups.last === null ? ranS > BACKUP_LATE_S : backups.last < oldest;
    if (isLate)
      found.push({
        reason: 'backup',
        message: backups.last === null ? 'No backup was made yet.' : `The last backup is of ${backups.last}.`,
        hint: 'See the log for why it could not be made; by hand: stanchion backup FILE',
      });
  }
  return found;
}

function mailReasons({ mails }: StoreHealth, now: Instant): Wrong[] {
  const { tried, answer, oldestSendAt } = mails;
  const waitedMs = oldestSendAt === null ? 0 : now - oldestSendAt;
  if (tried > 0)
    return [
      {
        reason: 'relay',
        isRed: waitedMs > RELAY_LATE_MS,
        since: oldestSendAt,
        // What the relay itself said may name somebody, and stands with the mail.
        message: `Mails that were tried and wait to be tried again: ${tried}. ${answer?.split(':')[0] ?? ''}.`,
        hint: 'See on the page Mails what the relay answered, and try it: stanchion doctor',
      },
    ];
  if (waitedMs <= MAIL_LATE_MS) return [];
  const hint = 'Does the lane that hands over mails run? The log says what it does.';
  return [{ reason: 'relay', since: oldestSendAt, message: 'A mail has waited for hours.', hint }];
}

function folderReasons(stored: StoreHealth, vitals: Vitals | undefined, now: Instant): Wrong[] {
  const { folder, oldestUntaken } = stored;
  const found: Wrong[] = [];
  if (folder !== null)
    found.push({
      reason: 'folder',
      since: folder.seenAt,
      message: folder.isMissing ? 'The drop folder is not there.' : 'The drop folder is empty, and was not.',
      hint: 'Is its disk connected? Nothing that was counted is lost.',
    });
  const lagMs = msOf(vitals?.scanLagS?.() ?? 0);
  const waitMs = oldestUntaken === null ? 0 : now - oldestUntaken;
  if (Math.max(lagMs, waitMs) > INGEST_LATE_MS)
    found.push({
      reason: 'ingest',
      since: instant(now - Math.max(lagMs, waitMs)),
      message: `Files have waited in the drop folder for ${Math.round(minutesIn(secondsIn(Math.max(lagMs, waitMs))))} min.`,
      hint: 'A large import takes its time. Else the page Today and the log say which file cannot be taken, and why.',
    });
  return found;
}

function loopReasons(loops: readonly LoopPulse[], stored: StoreHealth | null, now: Instant): Wrong[] {
  const ago = (s: number | null): Instant | null => (s === null ? null : instant(now - msOf(s)));
  const still = loops
    .filter((loop) => !isTurning(loop))
    .map((loop) => ({
      reason: 'loop' as const,
      since: ago(loop.runningS ?? loop.sinceEndedS),
      message: stillText(loop),
      hint: `Restart the program; the log says what "${loop.name}" did last.`,
    }));
  const failing = loops
    .filter(({ failedInARow }) => failedInARow >= FAILING_AFTER)
    .map(({ name, failedInARow, failingS, why }) => ({
      ...{
        since: ago(failingS ?? null),
        reason: name === 'mailbox' ? ('mailbox' as const) : ('loop' as const),
      },
      ...(name === 'mailbox'
        ? {
            message: `Rides that come by mail are not taken: ${why}`,
            hint: 'Is the mail server up, and STANCHION_IMAP_URL right? It is tried again each minute, and nothing is lost.',
          }
        : {
            message: `The loop "${name}" failed ${failedInARow} times in a row: ${why}`,
            hint: `The log has the cause of what "${name}" failed of; it is tried again by itself.`,
          }),
    }));
  const others = (stored?.still ?? []).map(({ loop, host, silentS }) => ({
    reason: 'loop' as const,
    isRed: false,
    since: ago(silentS),
    message: `The loop "${loop}" of another process on ${host} stands still: nothing was heard of it for ${Math.ceil(minutesIn(silentS))} min.`,
    hint: `Start that process again on ${host}.`,
  }));
  return [...still, ...others, ...failing];
}

/** Says of a loop that does not turn what it does, if it said so, and for how long. */
const stillText = ({ name, runningS, doing }: LoopPulse): string =>
  runningS === null
    ? `The loop "${name}" stands still.`
    : `The loop "${name}" hangs: ${doing ?? 'busy'} for ${Math.round(runningS)} s.`;

/** Those that are logged where they arise. */
const LOGGED: readonly ReasonName[] = ['store', 'clock', 'loop', 'relay'];

/** Returns what logs each reason once it comes, and once it has gone. */
export function readinessLog(deps: ReadinessDeps): () => Promise<void> {
  let before = new Map<ReasonName, Reason>();
  return async () => {
    const { reasons } = await findReasons(deps);
    const red = new Map(
      reasons
        .filter(({ isRed, reason }) => isRed && !LOGGED.includes(reason))
        .map((one) => [one.reason, one]),
    );
    for (const { reason, message, hint } of red.values())
      if (!before.has(reason)) deps.log.error({ reason, hint }, message);
    for (const reason of before.keys()) if (!red.has(reason)) deps.log.info({ reason }, 'that is put right');
    before = red;
  };
}
