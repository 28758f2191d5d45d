import { believedRows } from './believedRows.js';
import type { NoteCounter } from './notes.js';
import { dropImpossible } from './possible.js';
import type { Recording, Samples, Span, SportSession, TimerEvent } from './recording.js';
import { allRows, pickSamples, sliceSamples } from './rows.js';
import { spansBetweenStops, type TimerSpans } from './timerSpans.js';

/** What a recorder that keeps sessions and a timer says of a whole file. */
export interface SessionsSaid
  extends Omit<Recording, 'samples' | 'spans' | 'unstarted' | 'claims' | 'notes'> {
  readonly sessions: readonly SportSession[];
  readonly timerEvents: readonly TimerEvent[];
  readonly timerS: number | null;
}

/**
 * Returns a recording for each session that has samples, in time order; one for all of them where there are not
 * several. A session's own end is often wrong, so it lasts until the next one starts.
 * `decoded` are the samples as they were written; what cannot be is taken out of them.
 */
export function recordingsBySession(decoded: Samples, said: SessionsSaid, notes: NoteCounter): Recording[] {
  dropImpossible(decoded, notes);
  const rows = believedRows(decoded.timeMs, allRows(decoded.count), said.damage, notes);
  if (rows.length === 0) return [];
  const samples = pickSamples(decoded, rows);
  const { spans, unstarted } = spansBetweenStops(samples.timeMs, said.timerEvents);
  const recordingOf = (part: Samples, timed: TimerSpans, session: SportSession | undefined): Recording =>
    sessionRecording(part, timed, session, said, notes);
  const sessions = startsInOrder(said.sessions);
  if (sessions.length < 2 || Number.isNaN(samples.timeMs[0]!)) {
    return [recordingOf(samples, { spans, unstarted }, sessions[0] ?? said.sessions[0])];
  }
  const starts = sessions.map((session, i) => (i === 0 ? 0 : firstAt(samples.timeMs, session.startMs)));
  return sessions.flatMap((session, i) => {
    const from = starts[i]!;
    const to = starts[i + 1] ?? samples.count;
    if (to <= from) return [];
    const timed = { spans: within(spans, from, to), unstarted: within(unstarted, from, to) };
    return [recordingOf(sliceSamples(samples, from, to), timed, session)];
  });
}

function sessionRecording(
  samples: Samples,
  { spans, unstarted }: TimerSpans,
  session: SportSession | undefined,
  { sessions: _sessions, timerEvents: _events, timerS, ...said }: SessionsSaid,
  notes: NoteCounter,
): Recording {
  return {
    ...said,
    sport: session?.sport ?? said.sport,
    subSport: session === undefined || session.sport === null ? said.subSport : session.subSport,
    samples,
    spans,
    ...(unstarted.length > 0 && { unstarted }),
    claims: {
      elapsedS: session?.elapsedS ?? null,
      timerS: session?.timerS ?? timerS,
      distanceM: session?.distanceM ?? null,
    },
    notes: notes.list(),
  };
}

/** A session written twice is one; one without a start cannot be told from its neighbours. */
function startsInOrder(sessions: readonly SportSession[]): SportSession[] {
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
