import FitParser, { type ParsedFit } from 'fit-file-parser';
import type {
  Jump,
  RecorderWords,
  Sensor,
  SportSession,
  TimerEvent,
} from '../../core/ground/samples/recording.js';
import { HOUR_MS } from '../../units.js';
import { sensorsOf } from './fitSensors.js';

/** The messages besides records that are read: file_id, sport, session, event, device_info, activity, jump. */
export const SUMMARY_MESSAGES: ReadonlySet<number> = new Set([0, 12, 18, 21, 23, 34, 285]);
export const EVENT_MESSAGE = 21;

/** What a FIT part says besides its samples, in the names of the FIT profile. */
export interface FitSummary {
  readonly fileType: string | null;
  readonly sessions: readonly SportSession[];
  readonly sport: string | null;
  readonly subSport: string | null;
  readonly timerEvents: readonly TimerEvent[];
  readonly sensors: readonly Sensor[];
  readonly timerS: number | null;
  readonly recorder: Omit<RecorderWords, 'motor'>;
  readonly serial: string | null;
}

/**
 * Returns the summary in a FIT part that holds summary messages only; null where the decoder cannot read it.
 * `eventTimesMs` are the times of its event messages, in order.
 */
export function readFitSummary(part: Uint8Array, eventTimesMs: readonly number[]): FitSummary | null {
  const fit = decode(part);
  if (fit === null) return null;
  const sport = fit.sports?.[0];
  return {
    fileType: nameOf(fit.file_ids?.[0]?.type),
    sessions: whatIsSaid(
      (fit.sessions ?? []).map((session) => ({
        startMs: timeOf(session.start_time),
        sport: nameOf(session.sport),
        subSport: nameOf(session.sub_sport),
        elapsedS: numberOf(session.total_elapsed_time),
        timerS: numberOf(session.total_timer_time),
        distanceM: numberOf(session.total_distance),
      })),
    ),
    ...sportSaid({ sport: nameOf(sport?.sport), subSport: nameOf(sport?.sub_sport) }),
    timerEvents: timerEventsOf(fit, eventTimesMs),
    sensors: sensorsOf((fit.device_infos ?? []).map(deviceOf)),
    timerS: numberOf(activityOf(fit).total_timer_time),
    recorder: recorderWords(fit),
    serial: serialOf(fit),
  };
}

interface Activity {
  readonly timestamp?: unknown;
  readonly local_timestamp?: unknown;
  readonly total_timer_time?: unknown;
}
const activityOf = (fit: ParsedFit): Activity => (fit.activity ?? {}) as Activity;

/** No zone is farther from UTC than this. Units: milliseconds. */
const FARTHEST_ZONE_MS = 15 * HOUR_MS;
/** A day of jumps is less; what holds more is no ride. */
const MOST_JUMPS = 2000;

function recorderWords(fit: ParsedFit): FitSummary['recorder'] {
  const [sport] = fit.sports ?? [];
  const sessions = (fit.sessions ?? []) as readonly { sport_profile_name?: unknown; jump_count?: unknown }[];
  const { timestamp, local_timestamp } = activityOf(fit);
  const offsetMs = timeOf(local_timestamp) - timeOf(timestamp);
  const counts = sessions.map((session) => numberOf(session.jump_count)).filter((count) => count !== null);
  return {
    profileName:
      textOf((sport as { name?: unknown } | undefined)?.name) ??
      sessions.map((session) => textOf(session.sport_profile_name)).find((name) => name !== null) ??
      null,
    localOffsetMs: Math.abs(offsetMs) <= FARTHEST_ZONE_MS ? offsetMs : null,
    jumpCount: counts.length === 0 ? null : counts.reduce((sum, count) => sum + count, 0),
    jumps: ((fit.jumps ?? []) as readonly FitJump[]).slice(0, MOST_JUMPS).flatMap(jumpOf),
  };
}

interface FitJump {
  readonly timestamp?: unknown;
  readonly hang_time?: unknown;
  readonly distance?: unknown;
}

function jumpOf({ timestamp, hang_time, distance }: FitJump): Jump[] {
  const atMs = timeOf(timestamp);
  if (Number.isNaN(atMs)) return [];
  return [{ atMs, hangS: finiteOf(hang_time), distanceM: finiteOf(distance) }];
}

/** Programs that write files for a telephone give small numbers of their own, the same to everybody: common practice, no source. */
const LEAST_SERIAL = 1_000_000;

/** Of the file, else of the recorder among the devices. */
function serialOf(fit: ParsedFit): string | null {
  const creators = (fit.device_infos ?? []).filter(
    ({ device_index }) => String(device_index) === 'creator' || Number(device_index) === 0,
  );
  const serials = [...(fit.file_ids ?? []), ...creators].map((one) =>
    numberOf((one as { serial_number?: unknown }).serial_number),
  );
  const serial = serials.find((number) => number !== null && number >= LEAST_SERIAL);
  return serial == null ? null : String(serial);
}

type Sport = Pick<SportSession, 'sport' | 'subSport'>;

/** `generic` is what recorders write that were told of no sport. Source: FIT profile, sport 0. */
const sportSaid = ({ sport, subSport }: Sport): Sport =>
  sport === 'generic' ? { sport: null, subSport: null } : { sport, subSport };

/** Beside sessions whose sport is named, one without is none of these. */
function whatIsSaid(sessions: readonly SportSession[]): SportSession[] {
  const isNamed = sessions.some((session) => sportSaid(session).sport !== null);
  return sessions.map((session) => (isNamed ? session : { ...session, ...sportSaid(session) }));
}

/** The decoder reports in two ways, by its callback or by throwing; it calls back before it returns. */
function decode(part: Uint8Array): ParsedFit | null {
  let fit: ParsedFit | null = null;
  const buffer = Buffer.from(part.buffer as ArrayBuffer, part.byteOffset, part.length);
  try {
    // The checksum was looked at before: it is over the whole part, which these messages are taken from.
    new FitParser({ force: true, mode: 'list' }).parse(buffer, (_problem, parsed) => {
      fit = parsed ?? null;
    });
  } catch {
    return null;
  }
  return fit;
}

/** A stop ends a span whichever way it is written. Source: FIT SDK, profile, type event_type. */
const RUNNING: Readonly<Record<string, boolean>> = {
  start: true,
  stop: false,
  stop_all: false,
  stop_disable: false,
  stop_disable_all: false,
};

function timerEventsOf(fit: ParsedFit, eventTimesMs: readonly number[]): TimerEvent[] {
  return (fit.events ?? []).flatMap((event, i) => {
    const running = RUNNING[String(event.event_type)];
    const atMs = eventTimesMs[i] ?? Number.NaN;
    return event.event === 'timer' && running !== undefined && !Number.isNaN(atMs) ? [{ atMs, running }] : [];
  });
}

function deviceOf(
  info: NonNullable<ParsedFit['device_infos']>[number],
): Parameters<typeof sensorsOf>[0][number] {
  return {
    deviceIndex: info.device_index,
    sourceType: info.source_type,
    deviceType: info.device_type,
    antNumber: info.ant_device_number,
    serial: info.serial_number,
  };
}

/** A number that the profile has no name for stays distinct from a file that says nothing. */
function nameOf(value: unknown): string | null {
  if (typeof value === 'number') return `unknown_${value}`;
  return typeof value === 'string' ? value : null;
}

const textOf = (value: unknown): string | null =>
  typeof value === 'string' && value.trim() !== '' ? value.trim().slice(0, 100) : null;

const finiteOf = (value: unknown): number | null =>
  typeof value === 'number' && Number.isFinite(value) && value >= 0 ? value : null;

const numberOf = (value: unknown): number | null => (typeof value === 'number' ? value : null);

const timeOf = (value: unknown): number =>
  value instanceof Date || typeof value === 'string' ? new Date(value).getTime() : Number.NaN;
