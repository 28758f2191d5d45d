import type { Command } from 'commander';
import { examine } from '../../main.js';
import { contextOf } from '../context.js';
import { configOf } from '../opened.js';
import { setStatus } from '../status.js';

/** Says what was looked at, a line a check; ends with 3 where something is to be done. */
export const doctor = async (_options: unknown, command: Command): Promise<void> => {
  const { out, now } = contextOf(command);
  const checks = await examine(configOf(command), process.env, now);
  const width = Math.max(...checks.map(({ check }) => check.length));
  for (const { check, ok, message, hint } of checks) {
    out.object({ check, ok, message, hint });
    out.line(
      `${ok ? 'fine ' : 'to do'}  ${check.padEnd(width)}  ${message}${hint === null ? '' : ` ${hint}`}`,
    );
  }
  if (checks.some(({ ok }) => !ok)) setStatus(3);
};
