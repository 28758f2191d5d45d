import { mkdirSync, utimesSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { type Action, makeScenario, type Scenario } from './scenario.js';

export interface WrittenDemo {
  /** The document for `import`. */
  readonly setupFile: string;
  /** To be done after the rides are taken. */
  readonly actions: readonly Action[];
  readonly files: number;
  readonly misread: Scenario['misread'];
  readonly doneToday: Scenario['doneToday'];
}

/** Returns what was written into a data directory: `setup.json` and the riders' files below `inbox/`. */
export const writeDemo = (dir: string, today: string): WrittenDemo => {
  const { document, actions, rides, misread, doneToday } = makeScenario(today);
  const setupFile = join(dir, 'setup.json');
  mkdirSync(dir, { recursive: true });
  writeFileSync(setupFile, `${JSON.stringify(document, null, 2)}\n`);
  // A damaged file counts as finished only when it has stood still; these have, since the day before.
  const handedOver = new Date(Date.parse(`${today}T00:00:00Z`) - 4 * 3_600_000);
  for (const ride of rides) {
    const file = join(dir, ...ride.path.split('/'));
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, ride.bytes());
    utimesSync(file, handedOver, handedOver);
  }
  return { setupFile, actions, files: rides.length, misread, doneToday };
};
