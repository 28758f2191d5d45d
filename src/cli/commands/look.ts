import type { Command } from 'commander';
import { type Looked, type LookedRide, lookFile } from '../../flow/take/lookFile.js';
import { explanationText } from '../../languages/explanation.js';
import { lookReader } from '../../reader.js';
import { hoursOfSeconds, type Instant, kilometresIn } from '../../units.js';
import { contextOf, timeOf } from '../context.js';
import { type FoundFile, filesAt, orComplain } from '../filesAt.js';
import type { Output } from '../output.js';
import { setStatus } from '../status.js';
import { lookedReason } from '../takenText.js';

export const look = async (paths: string[], _options: unknown, command: Command) => {
  const context = contextOf(command);
  const { out } = context;
  for await (const found of filesAt(paths, out)) {
    await orComplain(
      out,
      async () => {
        for await (const looked of lookAt(found, timeOf(context))) tell(out, looked);
      },
      found.name,
    );
  }
};

async function* lookAt(found: FoundFile, now: Instant): AsyncGenerator<Looked> {
  if ('path' in found) {
    yield* lookFile(lookReader, found.path, now);
    return;
  }
  const { code, message } = found.problem;
  yield { file: found.name, outcome: 'set-aside', code, reason: message, rides: [] };
}

function tell(out: Output, looked: Looked): void {
  const { outcome, code } = looked;
  const reason = outcome === 'ask' || outcome === 'ride' ? lookedReason(code, outcome) : looked.reason;
  const rides = looked.rides.map((ride) => ({
    ...ride,
    why: explanationText(ride.why),
  }));
  const worded = { ...looked, reason, rides };
  out.object(worded);
  for (const line of told(worded)) out.line(line);
  if (looked.outcome === 'set-aside') setStatus(1);
}

const OUTCOME = {
  ride: 'ride',
  ask: 'a question',
  'no-ride': 'not a ride',
  'set-aside': 'set aside',
} as const;

type WordedRide = Omit<LookedRide, 'why'> & { readonly why: string };
type Worded = Omit<Looked, 'rides'> & { readonly rides: readonly WordedRide[] };

function told({ file, outcome, reason, rides }: Worded): string[] {
  const head = `${file}: ${OUTCOME[outcome]}${reason === null ? '' : `. ${reason}`}`;
  return [head, ...rides.map(rideLine)];
}

function rideLine(ride: WordedRide): string {
  const moving = `${hoursOfSeconds(ride.movingS).toFixed(2)} h moving`;
  if (ride.indoor) return `  ${ride.start ?? 'no time'}  ${moving}, indoors: it wears no suspension`;
  const terrain = `${hoursOfSeconds(ride.terrainS).toFixed(2)} terrain h`;
  return `  ${ride.start ?? 'no time'}  ${moving}, ${terrain}, ${(kilometresIn(ride.distanceM)).toFixed(1)} km. ${ride.why}`;
}
