import type { Landings } from '../../core/ground/samples/landings.js';
import type { ReadingSaid } from '../../core/ground/samples/reading.js';
import { type ExplanationPart, explainWeight } from '../../core/ledger/explain.js';
import { DEFAULT_WEIGHTS, priorOf, terrainOf } from '../../core/ledger/weight.js';
import type { FileMember, RideReader } from '../../ports/reader.js';
import { type Instant, isoTime, msOf, secondsIn, thousandths } from '../../units.js';

/** A ride as a file tells it, with default weights. Units: seconds, metres. */
export interface LookedRide {
  readonly start: string | null;
  readonly end: string | null;
  readonly sport: string | null;
  readonly subSport: string | null;
  readonly indoor: boolean;
  readonly complete: boolean;
  readonly elapsedS: number;
  readonly movingS: number;
  readonly distanceM: number;
  readonly ascentM: number | null;
  readonly descentM: number | null;
  readonly severity: number;
  readonly severityQuality: number | null;
  readonly terrainWeight: number;
  readonly terrainS: number;
  /** Why its hours weigh what they do. */
  readonly why: readonly ExplanationPart[];
  readonly leftOut: ReadingSaid['leftOut'];
  /** Null where the recorder does not record them. */
  readonly landings: Landings | null;
  readonly spans: number;
  readonly samples: number;
  readonly sensors: ReadingSaid['sensors'];
  readonly notes: ReadingSaid['notes'];
}

export interface Looked {
  readonly file: string;
  readonly outcome: 'ride' | 'ask' | 'no-ride' | 'set-aside';
  readonly code: string | null;
  /** What is wrong with the file, as its reader says it. */
  readonly reason: string | null;
  readonly rides: readonly LookedRide[];
}

/** Yields what the file at a path says, or each file in it where it is an archive; changes nothing. */
export async function* lookFile(
  reader: Pick<RideReader, 'open' | 'decode'>,
  path: string,
  now: Instant,
): AsyncGenerator<Looked> {
  for await (const member of reader.open(path, path)) yield await lookMember(reader, member, now);
}

async function lookMember(
  reader: Pick<RideReader, 'decode'>,
  member: FileMember,
  now: Instant,
): Promise<Looked> {
  const file = member.name;
  const refused = (outcome: Looked['outcome'], problem: { code: string; message: string }): Looked => ({
    file,
    outcome,
    code: problem.code,
    reason: problem.message,
    rides: [],
  });
  if ('problem' in member) return refused('set-aside', member.problem);
  const { readings, outcome, problem } = await reader.decode(member, now);
  if (problem) return refused(outcome === 'no-ride' ? 'no-ride' : 'set-aside', problem);
  const rides = readings.map(lookedRide);
  const asking = readings.find((reading) => reading.question !== null);
  if (asking) return { file, outcome: 'ask', code: asking.question, reason: null, rides };
  const damage = readings.find((reading) => reading.damage !== null)?.damage ?? null;
  return { file, outcome: 'ride', code: damage, reason: null, rides };
}

function lookedRide(reading: ReadingSaid): LookedRide {
  const { start, end, terrain, movingS, indoor } = reading;
  const weighed = terrainOf(terrain, movingS, {
    prior: priorOf(reading.subSport, null),
    weights: DEFAULT_WEIGHTS,
  });
  const terrainMs = indoor ? thousandths(0) : weighed.terrainMs;
  return {
    start: start === null ? null : isoTime(start),
    end: end === null ? null : isoTime(end),
    sport: reading.sport,
    subSport: reading.subSport,
    indoor,
    complete: reading.damage === null,
    elapsedS: reading.elapsedS,
    movingS,
    distanceM: reading.distanceM,
    ascentM: reading.ascentM,
    descentM: reading.descentM,
    severity: weighed.severity,
    severityQuality: terrain.quality,
    terrainWeight: movingS > 0 ? terrainMs / msOf(movingS) : weighed.weight,
    terrainS: secondsIn(terrainMs),
    why: explainWeight(terrain, weighed, { wet: false, leftOut: reading.leftOut }),
    landings: terrain.landings ?? null,
    leftOut: reading.leftOut,
    spans: reading.spans,
    samples: reading.samples,
    sensors: reading.sensors,
    notes: reading.notes,
  };
}
