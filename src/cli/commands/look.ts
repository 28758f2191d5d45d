import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Command } from 'commander';
import { type Looked, type LookedRide, lookFile } from '../../flow/lookFile.js';
import { listFiles, rideReader } from '../../main.js';
import { hoursOfSeconds } from '../../units.js';
import { contextOf, timeOf } from '../context.js';
import { setStatus } from '../status.js';

export function addLook(program: Command): void {
  program
    .command('look')
    .description('say what files hold; changes nothing, and needs no data folder')
    .argument('<file...>', 'files, folders or archives')
    .action(async (paths: string[], _options, command: Command) => {
      const context = contextOf(command);
      for (const path of paths) {
        for await (const looked of lookPath(path, timeOf(context))) {
          context.out.object(looked);
          for (const line of told(looked)) context.out.line(line);
          if (looked.outcome === 'set-aside') setStatus(1);
        }
      }
    });
}

async function* lookPath(path: string, now: ReturnType<typeof timeOf>): AsyncGenerator<Looked> {
  const found = await stat(path);
  if (!found.isDirectory()) {
    yield* lookFile(rideReader, path, now);
    return;
  }
  const { files, problems } = await listFiles(path);
  for (const file of files) yield* lookFile(rideReader, join(path, file.path), now);
  for (const { source, code, message } of problems) {
    yield { file: join(path, source), outcome: 'set-aside', code, reason: message, rides: [] };
  }
}

const OUTCOME = {
  ride: 'ride',
  ask: 'a question',
  'no-ride': 'not a ride',
  'set-aside': 'set aside',
} as const;

function told({ file, outcome, reason, rides }: Looked): string[] {
  const head = `${file}: ${OUTCOME[outcome]}${reason === null ? '' : `. ${reason}`}`;
  return [head, ...rides.map(rideLine)];
}

function rideLine(ride: LookedRide): string {
  const moving = `${hoursOfSeconds(ride.movingS).toFixed(2)} h moving`;
  if (ride.indoor) return `  ${ride.start ?? 'no time'}  ${moving}, indoors: it wears no suspension`;
  const terrain = `${hoursOfSeconds(ride.terrainS).toFixed(2)} terrain h`;
  return `  ${ride.start ?? 'no time'}  ${moving}, ${terrain}, ${(ride.distanceM / 1000).toFixed(1)} km. ${ride.why}`;
}
