import type { Command } from 'commander';
import { type Instant, instant } from '../units.js';
import { type Output, openOutput } from './output.js';

export interface Globals {
  readonly data?: string;
  readonly json?: boolean;
  readonly now?: Instant;
}

/** What every command works with. */
export interface Context {
  readonly out: Output;
  readonly now: Instant | null;
}

export const contextOf = (command: Command): Context => {
  const { json, now } = command.optsWithGlobals<Globals>();
  return { out: openOutput(json ?? false), now: now ?? null };
};

/** The time of this call: that of `--now`, else the machine's. */
export const timeOf = ({ now }: Context): Instant => now ?? instant(Date.now());
