import type { Motor, Note, Recording, Samples, Span } from './recording.js';
import { spansBetweenStops, type TimerSpans } from './timerSpans.js';
import type { FitSession, FitSummary } from '../../../files/fit/fitSummary.js';
import { sliceSamples } from '../../../files/sampleColumns.js';

/**
 * Returns a recording for each session that has samples, in time order; one for all of them where there are not
 * several. A session's own end is often wrong, so it lasts until the next one starts.
 */
export function recordingsBySession(
  samples: Samples,
  summary: FitSummary,
  damage: Recording['damage'],
  notes: readonly Note[],
  motor: Motor | null = null,
): Recording[] {
  const { spans, unstarted } = spansBetweenStops(samples.timeMs, summary.timerEvents);
  const said = { summary, damage, notes, motor };
  const sessions = startsInOrder(summary.sessions);
  if (sessions.length < 2 || Number.isNaN(samples.timeMs[0]!)) {
    return [recordingOf(samples, { spans, unstarted }, sessions[0] ?? summary.sessions[0], said)];
  }
  const starts = sessions.map((session, i) => (i === 0 ? 0 : firstAt(samples.timeMs, session.startMs)));
  return sessions.flatMap((session, i) => {
    const from = starts[i]!;
    const to = starts[i + 1] ?? samples.count;
    if (to <= from) return [];
    const part = sliceSamples(samples, from, to);
    const timed = { spans: within(spans, from, to), unstarted: within(unstarted, from, to) };
    return [recordingOf(part, timed, session, said)];
  });
}

/** What is said of all recordings of a file. */
interface SaidOfAll extends Pick<Recording, 'damage' | 'notes'> {
  readonly summary: FitSummary;
  readonly motor: Motor | null;
}

function recordingOf(
  samples: Samples,
  { spans, unstarted }: TimerSpans,
  session: FitSession | undefined,
  { summary, damage, notes, motor }: SaidOfAll,
): Recording {
  return {
    format: 'fit',
    sport: session?.sport ?? summary.sport,
    subSport: session === undefined || session.sport === null ? summary.subSport : session.subSport,
    samples,
    spans,
    ...(unstarted.length > 0 && { unstarted }),
    damage,
    sensors: summary.sensors,
    claims: {
      elapsedS: session?.elapsedS ?? null,
      timerS: session?.timerS ?? summary.timerS,
      distanceM: session?.distanceM ?? null,
    },
    notes,
    recorder: { ...summary.recorder, motor },
    ...(summary.serial !== null && { serial: summary.serial }),
  };
}

/** A session written twice is one; one without a start cannot be told from its neighbours. */
function startsInOrder(sessions: readonly FitSession[]): FitSession[] {
  const byStart = new Map(sessions.map((session) => [session.startMs, session]));
  byStart.delete(Number.NaN);
  return [...byStart.values()].sort((a, b) => a.startMs - b.startMs);
}

function within(spans: readonly Span[], from: number, to: number): Span[] {
  return spans
    .map((span) => ({ from: Math.max(span.from, from) - from, to: Math.min(span.to, to) - from }))
    .filter((span) => span.to > span.from);
}

function firstAt(timeMs: Float64Array, startMs: number): number {
  const at = timeMs.findIndex((time) => time >= startMs);
  return at < 0 ? timeMs.length : at;
}
